// Completion of what is typed in `detent step`.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "dsl/model.hpp"

namespace detent::cli {

/// What may stand at the end of what is typed so far: `part` is the beginning of a word in it, and the words
/// are those that it can become.
struct Completion {
  std::string part;
  std::vector<std::string> words;
};
[[nodiscard]] Completion complete(const dsl::Model& model, std::string_view typed);

}  // namespace detent::cli
