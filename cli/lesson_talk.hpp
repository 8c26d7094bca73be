// Giving a lesson: showing it piece by piece, waiting for answers, and holding them beside the machine's.
#pragma once

#include <string>

#include "cli/lesson.hpp"
#include "cli/result.hpp"
#include "cli/settings.hpp"

namespace detent::cli {

struct LessonWishes {
  bool ask = true;        ///< wait for answers; else all is shown at once
  std::string name = {};  ///< by which it was called
  std::string next = {};  ///< the lesson to go on with, or ""
};

/// Writes to standard output as it goes on. Where that can't be written, what could not be said is in the
/// result, so that delivering it says why. `undecided` where the machine did not decide something.
[[nodiscard]] CommandResult give_lesson(const Lesson& lesson, const LessonWishes& wishes,
                                        const Settings& settings);

}  // namespace detent::cli
