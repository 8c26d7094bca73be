// Tokens to lines, and lines that are too long to shorter ones.
#pragma once

#include <cstddef>
#include <vector>

#include "dsl/format/tokens.hpp"

namespace detent::dsl::format {

struct Line {
  /// The tokens on it: [first, last). Without any it holds a comment alone, or is empty.
  std::size_t first = 0, last = 0;
  const Comment* comment = nullptr;  ///< at its end, or alone
  bool continues = false;            ///< the comment goes on with that at the end of the line above
  [[nodiscard]] bool has_code() const { return first != last; }
  [[nodiscard]] bool is_blank() const { return first == last && comment == nullptr; }
};

/// Lines as the text has them, as far as the layout lets it: what begins a declaration begins a line, breaks
/// stand where they may, and of empty lines one is left. Marks the claims that begin on a line of their own.
[[nodiscard]] std::vector<Line> lines_of(Tokens& tokens);

/// Sets where the name of each declaration begins: in one column for declarations without an empty line
/// between them.
void align_names(Tokens& tokens, const std::vector<Line>& lines);

/// Columns before a line. That of a comment is for the token behind it, which its `first` names.
[[nodiscard]] std::size_t indent_of(const Tokens& tokens, const Line& line);

/// The same lines, those of more than line_columns broken where that is best.
[[nodiscard]] std::vector<Line> shortened(Tokens& tokens, const std::vector<Line>& lines);

}  // namespace detent::dsl::format
