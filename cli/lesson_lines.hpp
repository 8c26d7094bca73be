// The small things that a lesson's text is read with. Private to reading lessons.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "cli/lesson.hpp"

namespace detent::cli {

struct NumberedLine {
  std::size_t number = 1;  ///< in its file, from 1 on
  std::string text;
};

/// Without blanks at their ends.
[[nodiscard]] std::vector<NumberedLine> numbered_lines(std::string_view text);

[[nodiscard]] std::string_view trimmed_view(std::string_view text);

/// The pieces between the separators, without blanks around them; empty pieces are left out.
[[nodiscard]] std::vector<std::string> parted(std::string_view text, char separator);

/// Small letters, digits and `_`: what is safe as part of a file's name.
[[nodiscard]] bool is_plain_name(std::string_view name);

/// A line `- WORDS [MEANING, …]`. Throws LessonProblem where it does not say what it would mean.
[[nodiscard]] LessonChoice choice_of(const NumberedLine& line);

struct MendedText {
  std::string text;
  std::vector<LessonChange> changes;
};

/// The text with each group of lines `- old` replaced by the `+ new` below it. Throws LessonProblem where the
/// old lines do not stand in the text, or stand there more than once.
[[nodiscard]] MendedText mend_text(const std::string& before, const std::vector<NumberedLine>& body);

}  // namespace detent::cli
