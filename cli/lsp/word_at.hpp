#pragma once

#include <string>

#include "cli/lsp/questions.hpp"

namespace detent::cli::lsp {

/// A word of the text that stands neither in a comment nor in a sentence.
struct WordAt {
  std::string text;  ///< "" if there is none
  dsl::Place place;
};

[[nodiscard]] WordAt word_at(const Spot& spot);

}  // namespace detent::cli::lsp
