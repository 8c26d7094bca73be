// Lines to text: what stands in one column, and the comments at line ends.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "dsl/format/lines.hpp"
#include "dsl/format/tokens.hpp"

namespace detent::dsl::format {

/// Lines up the `=` of lines of one kind that follow each other, and the arrows and causes of the lines of
/// `stages`.
void align_rows(Tokens& tokens, const std::vector<Line>& lines);

/// The text, each line with `line_end`; comments at the ends of lines that follow each other in one column.
[[nodiscard]] std::string text_of(const Tokens& tokens, const std::vector<Line>& lines,
                                  std::string_view line_end);

}  // namespace detent::dsl::format
