// The pieces of a lesson as pages, as far as no machine is needed for them.
#pragma once

#include <string>

#include "cli/check_result.hpp"
#include "cli/lesson.hpp"
#include "cli/page.hpp"

namespace detent::cli {

/// Each begins with an empty line.
[[nodiscard]] Page prose_page(const LessonProse& prose, const Terminal& terminal);
/// With the numbers of its lines, which verdicts speak of.
[[nodiscard]] Page design_page(const LessonDesign& design);
[[nodiscard]] Page mend_page(const LessonMend& mend);
/// The question with its choices, numbered from 1 on.
[[nodiscard]] Page question_page(const LessonQuestion& question, const Terminal& terminal);
/// What the machine says, without the cautions of a whole report: a lesson ends with them.
[[nodiscard]] Page verdicts_page(const CheckResult& result, const Terminal& terminal);
[[nodiscard]] Page task_page(const LessonTask& task, const Terminal& terminal);

/// The words of a lesson's text on a page: what stands in backquotes is put in quotes, and stars are left
/// out.
[[nodiscard]] std::string spoken(const std::string& text);

}  // namespace detent::cli
