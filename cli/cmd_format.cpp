#include "cli/cmd_format.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <optional>
#include <system_error>

#include "cli/errors_text.hpp"
#include "cli/page.hpp"
#include "cli/reader.hpp"
#include "cli/terminal.hpp"
#include "cli/whole_file.hpp"
#include "cli/words.hpp"
#include "dsl/format.hpp"

namespace detent::cli {
namespace {

std::string shown(const std::string& name) {
  return printable(name, choose_terminal({}, look_around(1)).unicode);
}

CommandResult refusal(const std::string& file, const std::string& problem) {
  return usage_error(fmt::format("format: '{}' {}, and stays as it is", file, problem),
                     "name a design that can be read and written, or - for standard input");
}

/// From 1; both texts have it, or one ends there.
std::size_t first_line_that_differs(std::string_view a, std::string_view b) {
  const auto [in_a, in_b] = std::mismatch(a.begin(), a.end(), b.begin(), b.end());
  return static_cast<std::size_t>(std::count(a.begin(), in_a, '\n')) + 1;
}

CommandResult unreadable(const dsl::Diagnostics& diagnostics, const dsl::Sources& sources) {
  const Terminal terminal = choose_terminal({}, look_around(2));
  Page page;
  add_diagnostics(page, diagnostics, sources, terminal);
  page.push_back({});
  add_paragraph(page, "",
                fmt::format("{} stays as it is: only what can be read can be laid out", sources.name(0)),
                terminal, Style::bad);
  return {.errors = render(page, terminal), .status = Status::input_wrong};
}

/// Puts the text in the place of the file's. Nothing, where it could; a text that may not be written to
/// stays, even where its folder would let it be replaced.
std::optional<CommandResult> replace(const std::string& file, const std::string& text) {
  if (access(file.c_str(), W_OK) != 0) {
    return refusal(file, "may not be written: " + std::generic_category().message(errno));
  }
  const std::string problem = write_whole_file(file, text);
  if (problem.empty()) return {};
  return refusal(file, "can't be written: " + problem);
}

CommandResult format_file(const std::string& file, bool only_check) {
  const std::string name = source_name(file);
  dsl::FileText read = file_reader(file)(name);
  if (!read.text) return refusal(name, read.problem);
  dsl::Sources sources;
  sources.add(name, std::move(*read.text));
  dsl::Diagnostics diagnostics;
  const std::optional<std::string> text = dsl::format_text(sources, 0, diagnostics);
  if (!text) return unreadable(diagnostics, sources);
  const bool changes = *text != sources.text(0);
  if (only_check && changes) {
    return {.output = fmt::format("{} would change, from line {} on\n", shown(name),
                                  first_line_that_differs(sources.text(0), *text)),
            .status = Status::refuted};
  }
  if (only_check) return {};
  if (file == "-") return {.output = *text};
  if (!changes) return {};
  if (std::optional<CommandResult> failed = replace(file, *text)) return std::move(*failed);
  return {.output = fmt::format("laid out afresh: {}\n", shown(name))};
}

}  // namespace

CommandResult format_files(const FormatOptions& options) {
  const auto input = std::count(options.files.begin(), options.files.end(), "-");
  if (input > 0 && options.files.size() > 1) {
    return usage_error("format: - stands for standard input, which goes to standard output by itself",
                       "write: detent format - < FILE");
  }
  CommandResult all;
  for (const std::string& file : options.files) {
    const CommandResult one = format_file(file, options.check);
    all.output += one.output;
    all.errors += one.errors;
    all.status = std::max(all.status, one.status);
  }
  return all;
}

}  // namespace detent::cli
