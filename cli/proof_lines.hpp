// The lines of a proof's questions, one by one: what may stand in which. The language is the small part of
// SMT-LIB 2.6 that solver/smtlib.cpp writes.
#pragma once

#include <cstddef>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace detent::cli {

struct Line {
  std::size_t number = 0;  ///< in its file, from 1 on
  std::string text = {};
};

/// The commands and the four marks of solver/smtlib.hpp; comments are left out. Nothing where a character
/// could end a comment that an eye does not see end.
[[nodiscard]] std::optional<std::vector<Line>> commands_of(const std::string& text);

/// Whether a line is `(declare-fun |x@0| () Int)`, `(define-fun |x@0| () Bool TERM)` or `(assert TERM)`, and
/// nothing else; @0 or @1, and terms of linear arithmetic and logic.
[[nodiscard]] bool is_step_command(const std::string& line);

/// Whether a line is one such term and speaks of these symbols (bars included) only.
[[nodiscard]] bool is_term_of(const std::string& line, const std::set<std::string>& symbols);

struct Remembered {
  std::string name;  ///< without bars and moment
  std::string sort;  ///< Bool or Int
};

/// What a line declares to be remembered before the first step, or nothing.
[[nodiscard]] std::optional<Remembered> remembered(const std::string& line);

/// true, false, 5 or (- 5), as the sort is.
[[nodiscard]] bool is_literal(const std::string& text, const std::string& sort);

/// A line of the first step, so many steps later.
[[nodiscard]] std::string moved_on(const std::string& line, std::size_t step);

}  // namespace detent::cli
