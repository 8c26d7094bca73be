// From one text to another by as few and as small edits as is cheap to find.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace detent::cli::lsp {

/// Bytes [begin, end) of the first text, and what comes in their place.
struct TextEdit {
  std::size_t begin = 0;
  std::size_t end = 0;
  std::string text;
};

/// In order, apart from each other; each begins and ends between two characters of UTF-8.
[[nodiscard]] std::vector<TextEdit> edits_between(std::string_view before, std::string_view after);

}  // namespace detent::cli::lsp
