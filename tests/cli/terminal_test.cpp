// What is asked for goes before the environment, and that before what is measured.
// NO_COLOR: no-color.org (from memory): set and not empty means no colour. Locale order: POSIX XBD 8.2 (from
// memory): LC_ALL, then the category's own variable, then LANG.
#include <map>

#include "cli/terminal.hpp"
#include "tests/support/catch.hpp"

namespace detent::cli {
namespace {

using Variables = std::map<std::string, std::string>;

Surroundings around(bool is_terminal, Variables variables, std::optional<std::size_t> columns = {}) {
  return {.is_terminal = is_terminal, .window_columns = columns, .variable = [variables](const char* name) {
            const auto found = variables.find(name);
            return found == variables.end() ? std::string() : found->second;
          }};
}

bool colored(ColorWish wish, bool is_terminal, const Variables& variables) {
  return choose_terminal({.color = wish}, around(is_terminal, variables)).color;
}

bool unicode(const Variables& variables) {
  return choose_terminal({}, around(true, variables)).unicode;
}

std::size_t width(std::optional<std::size_t> wish, const Variables& variables,
                  std::optional<std::size_t> columns) {
  return choose_terminal({.width = wish}, around(columns.has_value(), variables, columns)).width;
}

}  // namespace

TEST_CASE("colour") {
  CHECK(colored(ColorWish::auto_, true, {{"TERM", "linux"}}));
  CHECK_FALSE(colored(ColorWish::auto_, false, {{"TERM", "linux"}}));
  CHECK_FALSE(colored(ColorWish::auto_, true, {{"TERM", "dumb"}}));
  CHECK_FALSE(colored(ColorWish::auto_, true, {{"NO_COLOR", "1"}}));
  CHECK(colored(ColorWish::auto_, true, {{"NO_COLOR", ""}}));
  CHECK(colored(ColorWish::always, false, {{"NO_COLOR", "1"}, {"TERM", "dumb"}}));
  CHECK_FALSE(colored(ColorWish::never, true, {}));
}

TEST_CASE("characters") {
  CHECK(unicode({{"LANG", "de_DE.UTF-8"}}));
  CHECK(unicode({{"LC_CTYPE", "C.utf8"}}));
  CHECK_FALSE(unicode({}));
  CHECK_FALSE(unicode({{"LANG", "C"}}));
  CHECK_FALSE(unicode({{"LC_ALL", "POSIX"}, {"LANG", "de_DE.UTF-8"}}));
  CHECK(unicode({{"LC_ALL", ""}, {"LC_CTYPE", "en_GB.UTF-8"}, {"LANG", "C"}}));
}

TEST_CASE("width") {
  CHECK(width(120, {{"COLUMNS", "60"}}, 90) == 120);
  CHECK(width({}, {{"COLUMNS", "60"}}, 90) == 60);
  CHECK(width({}, {}, 90) == 90);
  CHECK(width({}, {}, {}) == 80);
  CHECK(width({}, {{"COLUMNS", "wide"}}, {}) == 80);
  CHECK(width({}, {{"COLUMNS", "7"}}, {}) == narrowest_width);
  CHECK(width({}, {{"COLUMNS", "999999"}}, {}) == widest_width);
}

}  // namespace detent::cli
