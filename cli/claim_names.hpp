// The claims of a design by their names.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string_view>

#include "dsl/model.hpp"

namespace detent::cli {

/// For as long as the model is there and is not changed. A table, because there may be 100,000 claims.
class ClaimNames {
 public:
  explicit ClaimNames(const dsl::Model& model) : model_(model) {
    for (std::uint32_t claim = 0; claim < model.claims.size(); ++claim)
      claims_.emplace(model.claims[claim].name, claim);
  }

  [[nodiscard]] const dsl::Model& model() const { return model_; }
  /// Index in Model::claims; nothing where there is none.
  [[nodiscard]] std::optional<std::uint32_t> index(std::string_view name) const {
    const auto found = claims_.find(name);
    return found == claims_.end() ? std::nullopt : std::optional(found->second);
  }
  [[nodiscard]] const dsl::Claim* find(std::string_view name) const {
    const auto claim = index(name);
    return claim ? &model_.claims[*claim] : nullptr;
  }

 private:
  const dsl::Model& model_;
  std::map<std::string_view, std::uint32_t> claims_;
};

}  // namespace detent::cli
