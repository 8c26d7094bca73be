// A design of the reader's own, held against a lesson.
#pragma once

#include <string>

#include "cli/lesson.hpp"
#include "cli/result.hpp"
#include "cli/settings.hpp"

namespace detent::cli {

/// Asks every claim of the lesson's last design, in the lesson's wording, of the design in `file`, and all
/// that it claims itself; and what the lesson's task asks for. The design must have the same tick, the same
/// inputs and the same rule for power-up, and assume nothing that the lesson does not assume. Status:
/// all_hold if all is met, refuted if something is not, undecided where only a limit kept it from being
/// known, input_wrong where the design can't be asked.
[[nodiscard]] CommandResult hold_against(const Lesson& lesson, const std::string& file,
                                         const Settings& settings);

}  // namespace detent::cli
