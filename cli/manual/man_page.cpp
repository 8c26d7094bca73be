// The order of a manual page is not that of the help: what it is about comes first, then the options.
#include "cli/manual/man_page.hpp"

#include <algorithm>
#include <string_view>

#include "cli/commands.hpp"
#include "cli/help.hpp"
#include "cli/manual/roff.hpp"

namespace detent::cli::manual {
namespace {

// In the form of the help, so that the same reader reads it.
constexpr const char* files_and_surroundings = R"(
Files:
  NAME.detent           a design, or parts for designs
  NAME.run              a run, written by detent step or by hand
  /usr/share/detent/specs
                        designs that come with the program: functions to start
                        from, mistakes to learn from, lessons
  /usr/share/detent/*.schema.json
                        what --format json prints, as JSON schemas
  /usr/share/detent/formats.md
                        runs and recordings as files
  /usr/share/doc/detent/README.md
                        a tour
  $XDG_STATE_HOME/detent/history
                        lines typed to detent step, where that variable is set

Environment:
  NO_COLOR              if set and not empty, nothing is coloured
  COLUMNS               the width of the page, if the terminal does not say it
  TERM                  'dumb' stands for a terminal that can do nothing
  LC_ALL, LC_CTYPE, LANG
                        whether UTF-8 may be printed
  TMPDIR                where detent report keeps its picture for a moment
  XDG_STATE_HOME        see above
)";

constexpr const char* cautions = R"(
Cautions:
Before you touch anything on the bench: take the blade or propeller off. A proof is about the model in the text, not
about the wiring, the radio or the settings of a firmware. Local codes and licensed practice decide what is allowed;
this tool is an aid to thinking, not a safety assessment.
)";

bool is_about_options(const Block& block) {
  if (const auto* text = std::get_if<Paragraph>(&block)) return text->text.starts_with("--");
  const auto* terms = std::get_if<Terms>(&block);
  return terms != nullptr && std::any_of(terms->all.begin(), terms->all.end(),
                                         [](const Term& term) { return term.name.starts_with('-'); });
}

void write_blocks(Roff& roff, const Section& section, const char* head, bool options) {
  bool begun = false;
  for (const Block& block : section.blocks) {
    if (is_about_options(block) != options) continue;
    if (!begun) roff.head(head);
    begun = true;
    roff.block(block);
  }
}

void write_section(Roff& roff, const Section& section) {
  if (section.blocks.empty()) return;
  if (!section.head.empty()) {
    roff.head(section.head);
    for (const Block& block : section.blocks) roff.block(block);
    return;
  }
  write_blocks(roff, section, "Description", false);
  write_blocks(roff, section, "Options", true);
}

void write_sections(Roff& roff, const std::vector<Section>& sections) {
  for (const Section& section : sections) write_section(roff, section);
}

void write_name(Roff& roff, const std::string& name, const std::string& summary) {
  roff.head("Name");
  roff.line(escaped(name) + " \\- " + escaped(summary));
}

/// "detent check": its usage, set so that a long one is not broken within a word.
void write_usage(Roff& roff, const std::string& usage, const char* more) {
  roff.head("Synopsis");
  roff.line(usage_line(usage) + more);
}

/// ".BR detent\-check (1)," for every page but the one that it stands on.
void write_kin(Roff& roff, const std::vector<std::string>& pages) {
  roff.head("See also");
  for (std::size_t i = 0; i < pages.size(); ++i) {
    roff.line(".BR " + escaped(pages[i]) + " (1)" + (i + 1 < pages.size() ? "," : ""));
  }
}

}  // namespace

std::string overview_page(const Edition& edition) {
  const HelpPage help = read_help(general_help());
  Roff roff;
  roff.title("detent", edition.date, edition.version);
  write_name(roff, "detent", help.summary);
  write_usage(roff, "detent COMMAND", " ...");
  write_sections(roff, help.sections);
  write_sections(roff, read_sections(files_and_surroundings));
  write_sections(roff, read_sections(cautions));
  std::vector<std::string> kin;
  for (const Command& command : all_commands()) kin.push_back("detent-" + command.name);
  std::sort(kin.begin(), kin.end());
  write_kin(roff, kin);
  return roff.text();
}

std::string command_page(const std::string& command, const HelpPage& help, const Edition& edition) {
  Roff roff;
  roff.title("detent-" + command, edition.date, edition.version);
  write_name(roff, "detent-" + command, help.summary);
  write_usage(roff, help.usage, " [\\fIoption\\fR ...]");
  write_sections(roff, help.sections);
  write_sections(roff, read_sections(cautions));
  write_kin(roff, {"detent"});
  return roff.text();
}

}  // namespace detent::cli::manual
