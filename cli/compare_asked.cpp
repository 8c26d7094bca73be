#include "cli/compare_asked.hpp"

#include <fmt/format.h>

#include <utility>

#include "dsl/borrow.hpp"

namespace detent::cli {

std::optional<CommandResult> read_matches(const CompareOptions& options, dsl::Renames& renames) {
  for (const std::string& match : options.matches) {
    const std::size_t sign = match.find('=');
    const bool good = sign != std::string::npos && sign > 0 && sign + 1 < match.size() &&
                      match.find('=', sign + 1) == std::string::npos;
    if (!good) {
      return usage_error(fmt::format("--match: '{}' is not two names with a sign = between them", match),
                         "write the name of A, then that of B: --match thrust=throttle");
    }
    renames.emplace_back(match.substr(0, sign), match.substr(sign + 1));
  }
  return std::nullopt;
}

CommandResult wrong_condition(const char* option, const std::string& problem) {
  return usage_error(fmt::format("{}: {}", option, problem),
                     fmt::format("write a condition by the names of A: {} \"guard is safe\"", option));
}

/// Each by itself, before it is put into a claim.
std::optional<CommandResult> check_conditions(const CompareOptions& options) {
  const std::pair<const char*, const std::optional<std::string>&> asked[] = {
      {"--goal", options.goal}, {"--lock", options.lock}, {"--rest", options.rest}};
  for (const auto& [option, text] : asked) {
    const std::string problem = text ? dsl::expression_problem(*text) : "";
    if (!problem.empty()) return wrong_condition(option, problem);
  }
  return std::nullopt;
}

}  // namespace detent::cli
