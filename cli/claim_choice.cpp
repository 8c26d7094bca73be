#include "cli/claim_choice.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "dsl/diagnostics.hpp"

namespace detent::cli {
namespace {

CommandResult unknown_claim(const std::string& option, const std::string& name, const dsl::Model& model) {
  std::vector<std::string> names;
  for (const dsl::Claim& claim : model.claims) names.push_back(claim.name);
  const std::string near = dsl::nearest_name(name, names);
  std::string mend = "this design has no claims";
  if (!near.empty()) {
    mend = fmt::format("did you mean '{}'?", near);
  } else if (!names.empty()) {
    names.resize(std::min<std::size_t>(names.size(), 10));
    mend = fmt::format("the claims are: {}{}", fmt::join(names, ", "), model.claims.size() > 10 ? ", …" : "");
  }
  return usage_error(fmt::format("{}: no claim is called '{}'", option, name), mend);
}

}  // namespace

std::variant<std::uint32_t, CommandResult> choose_claim(const std::string& option, const std::string& name,
                                                        const dsl::Model& model) {
  const auto found = std::find_if(model.claims.begin(), model.claims.end(),
                                  [&](const dsl::Claim& claim) { return claim.name == name; });
  if (found == model.claims.end()) return unknown_claim(option, name, model);
  return static_cast<std::uint32_t>(found - model.claims.begin());
}

}  // namespace detent::cli
