// Line by line; a line that begins with the words but does not go on as it should is a problem, not a
// comment.
#include "tests/support/expectations.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <regex>

namespace detent::test {
namespace {

const std::regex& verdict_form() {
  static const std::regex form(
      "holds|holds, vacuous|undecided|refuted|refuted at tick \\d+|shown at tick \\d+");
  return form;
}

/// What stands behind `beginning`, without blanks at the end, or nothing if the line begins otherwise.
std::optional<std::string> behind(const std::string& line, std::string_view beginning) {
  if (line.rfind(beginning, 0) != 0) return std::nullopt;
  std::string rest = line.substr(beginning.size());
  rest.erase(rest.find_last_not_of(" \t\r") + 1);
  return rest;
}

void read_expectation(const std::string& rest, std::size_t line, Expectations& result) {
  const std::size_t colon = rest.find(": ");
  const std::string name = rest.substr(0, colon);
  const std::string said = colon == std::string::npos ? "" : rest.substr(colon + 2);
  if (name == "warning" && !said.empty()) {
    result.warnings.push_back(said);
  } else if (std::regex_match(said, verdict_form())) {
    result.verdicts.push_back({name, said, line});
  } else {
    result.problems.push_back(fmt::format("line {}: '{}' is no expectation", line, rest));
  }
}

}  // namespace

Expectations read_expectations(std::string_view text) {
  Expectations result;
  std::size_t number = 0;
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    const std::string line(text.substr(begin, end - begin));
    begin = end + 1;
    ++number;
    if (const auto rest = behind(line, "// expect ")) read_expectation(*rest, number, result);
    if (const auto rest = behind(line, "// check within ")) result.within = *rest;
  }
  std::sort(result.warnings.begin(), result.warnings.end());
  return result;
}

std::string verdict_words(const solver::Verdict& verdict) {
  switch (verdict.outcome) {
    case solver::Outcome::proved:
    case solver::Outcome::holds_up_to:
      return verdict.vacuous ? "holds, vacuous" : "holds";
    case solver::Outcome::refuted:
      return verdict.run ? fmt::format("refuted at tick {}", verdict.run->ticks() - 1) : "refuted";
    case solver::Outcome::shown:
      return verdict.run ? fmt::format("shown at tick {}", verdict.run->ticks() - 1) : "shown without a run";
    case solver::Outcome::undecided:
      return "undecided";
  }
  return "";
}

}  // namespace detent::test
