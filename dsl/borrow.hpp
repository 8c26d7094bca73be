// Claims of one design asked of another: their text, compiled once more.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "dsl/front.hpp"
#include "dsl/match.hpp"

namespace detent::dsl {

/// Something to ask of a design beside what it claims itself.
struct Wanted {
  std::string name;          ///< what the claim is to be called; need not be a name of the language
  std::string declaration;   ///< `claim NAME "sentence": …`, as a text
  std::string problem = {};  ///< filled in: why it can't be asked, or "" where it was
};

/// The design with all claims of `wanted` that it can be asked; they come last, in this order. `renames` says
/// by which other names (second) the design knows what the declarations name (first). `design` must have no
/// errors.
[[nodiscard]] Compiled compile_with(const Compiled& design, std::vector<Wanted>& wanted,
                                    const Renames& renames);

/// Why this text is not one condition or value that looks at something of a design; "" if it is.
[[nodiscard]] std::string expression_problem(const std::string& text);

/// By its name the text of each claim that is declared at the top of the file, so not of those that stand in
/// a part.
[[nodiscard]] std::map<std::string, std::string> claim_texts(const Compiled& design);

/// The text of what resets this latch of the file's top; "" where there is none.
[[nodiscard]] std::string reset_text(const Compiled& design, const std::string& latch);

/// That the output is at the value behind its `else`, as a text of the language; "" where it has none.
[[nodiscard]] std::string resting_text(const Compiled& design, const std::string& output);

}  // namespace detent::dsl
