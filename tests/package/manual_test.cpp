// Manual pages: for every command, read without a warning by programs that are not ours, and no word of the
// help is lost on the way. How a page is made up (NAME, SYNOPSIS, EXIT STATUS, FILES …): man-pages(7).
#include <algorithm>
#include <cctype>
#include <filesystem>
#include <map>
#include <sstream>

#include "cli/commands.hpp"
#include "cli/help.hpp"
#include "cli/manual/command_line.hpp"
#include "cli/manual/help_page.hpp"
#include "tests/package/tools.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/other_solvers.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

namespace manual = cli::manual;

std::string page_of(const std::string& name) {
  return manual_folder() + '/' + name + ".1";
}

/// As the reader sees it, in long lines; letters that were struck twice once.
std::string shown(const std::string& page) {
  const ProcessResult result = run_process({tool("mandoc"), "-T", "utf8", "-O", "width=1000", page});
  REQUIRE(result.status == 0);
  std::string text;
  for (const char c : result.output) {
    if (c == '\b') {
      while (!text.empty() && (text.back() & 0xC0) == 0x80) text.pop_back();  // the rest of a letter in UTF-8
      text.pop_back();
    } else {
      text += c;
    }
  }
  return text;
}

/// How often each word occurs, without regard to capitals and to the colon behind a head.
std::map<std::string, int> words_of(const std::string& text) {
  std::istringstream stream(text);
  std::map<std::string, int> words;
  for (std::string word; stream >> word;) {
    std::transform(word.begin(), word.end(), word.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    if (word.size() > 1 && word.back() == ':') word.pop_back();
    ++words[word];
  }
  return words;
}

void check_page(const std::string& name, const std::string& help) {
  INFO(name);
  REQUIRE(std::filesystem::exists(page_of(name)));
  const std::string page = shown(page_of(name));
  const std::map<std::string, int> there = words_of(page);
  for (const auto& [word, times] : words_of(help)) {
    INFO(word);
    if (word == "-") continue;  // a point of a list has another sign in the manual
    CHECK((there.contains(word) && there.at(word) >= times));
  }
  for (const char* head : {"NAME", "SYNOPSIS", "CAUTIONS", "SEE ALSO"})
    CHECK(has(page, std::string("\n") + head));
  CHECK(has(page, "take the blade or propeller off"));
}

}  // namespace

TEST_CASE("every command has a manual page with all that its help says") {
  if (!has_tool("mandoc")) return;
  check_page("detent", cli::general_help());
  for (const cli::Command& command : cli::all_commands())
    check_page("detent-" + command.name, command.help());
  const std::string page = shown(page_of("detent"));
  for (const char* head : {"EXIT STATUS", "FILES", "ENVIRONMENT", "EXAMPLE"}) {
    CHECK(has(page, std::string("\n") + head));
  }
  for (const cli::Command& command : cli::all_commands()) CHECK(has(page, "detent-" + command.name + "(1)"));
}

TEST_CASE("manual pages are read without a warning") {
  int pages = 0;
  for (const auto& file : std::filesystem::directory_iterator(manual_folder())) {
    if (file.path().extension() != ".1") continue;
    ++pages;
    if (has_tool("mandoc")) {
      const ProcessResult lint = run_process({tool("mandoc"), "-T", "lint", "-W", "warning", file.path()});
      CHECK(lint.output + lint.errors == "");
      CHECK(lint.status == 0);
    }
    if (!installed("man")) continue;
    // What Debian's own check of packages does.
    const ProcessResult man =
        run_process({tool("man"), "--warnings", "-E", "UTF-8", "-l", "-Tutf8", "-Z", file.path()},
                    {.environment = {{"LC_ALL", "C.UTF-8"}, {"MANROFFSEQ", ""}, {"MANWIDTH", "80"}}});
    CHECK(man.errors == "");
  }
  CHECK(pages == static_cast<int>(cli::all_commands().size()) + 1);
}

TEST_CASE("the help explains every option of every command, and names its value") {
  for (const manual::CommandLine& command : manual::command_lines()) {
    CHECK_FALSE(command.help.summary.empty());
    for (const manual::OptionLine& option : command.options) {
      INFO(command.name << ' ' << option.names.back());
      CHECK_FALSE(option.about.empty());
      CHECK(option.value.name.empty() == (option.count == 0));
    }
  }
}

TEST_CASE("help is taken apart into what it is made of") {
  const manual::HelpPage page = manual::read_help(R"(detent boil FILE: make water hot

  FILE                  the kettle; - is the pot
  --sweet               with sugar
  --more-than-most TIME how long,
                        at most
  --shape A=B..C
                        of the cup
  --in VESSEL           one of these:

    mug                 a large one,
                        with a handle
    cup                 a small one

  Without --sweet it
  is bitter.

  - one
    more
  - two

Verdicts:
  hot                   as it should be

Exit status: 0 hot,
1 cold.

Examples:
  detent boil tea \
    --sweet

Example, for the hurried:
  detent boil --sweet
)");
  CHECK(page.usage == "detent boil FILE");
  CHECK(page.summary == "make water hot");
  REQUIRE(page.sections.size() == 5);
  const auto& blocks = page.sections[0].blocks;
  REQUIRE(blocks.size() == 3);
  const auto& terms = std::get<manual::Terms>(blocks[0]).all;
  REQUIRE(terms.size() == 5);
  CHECK(terms[0].about == "the kettle; - is the pot");
  CHECK(terms[2].name == "--more-than-most TIME");
  CHECK(terms[2].about == "how long, at most");
  CHECK(terms[3].name == "--shape A=B..C");
  CHECK(terms[3].about == "of the cup");
  REQUIRE(terms[4].kinds.size() == 2);
  CHECK(terms[4].kinds[0].name == "mug");
  CHECK(terms[4].kinds[0].about == "a large one, with a handle");
  CHECK(page.sections[4].head == "Example");
  CHECK(std::get<manual::Paragraph>(page.sections[4].blocks.at(0)).text == "Example, for the hurried:");
  CHECK(std::get<manual::Paragraph>(blocks[1]).text == "Without --sweet it is bitter.");
  CHECK(std::get<manual::Points>(blocks[2]).all == std::vector<std::string>{"one more", "two"});
  CHECK(page.sections[1].head == "Verdicts");
  CHECK(std::get<manual::Paragraph>(page.sections[2].blocks.at(0)).text == "0 hot, 1 cold.");
  CHECK(std::get<manual::Lines>(page.sections[3].blocks.at(0)).all ==
        std::vector<std::string>{"detent boil tea \\", "  --sweet"});
}

}  // namespace detent::test
