// The lessons that come with the program, and those that somebody has written.
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "cli/lesson.hpp"
#include "cli/result.hpp"

namespace detent::cli {

struct ShelvedLesson {
  std::size_t number = 0;
  std::string name;  ///< "window"
  std::string_view text;
};

/// By number.
[[nodiscard]] std::vector<ShelvedLesson> shelved_lessons();

struct ChosenLesson {
  std::string called;  ///< as the user may call it again: a number, or a file
  std::string name;    ///< for files that are made of its designs: "window"
  std::string next;    ///< number of the one behind it, or ""
  Lesson lesson;
};

/// By number, name, or the path of a file (which has a / in it, or ends in .md); or a message with the mend.
[[nodiscard]] std::variant<ChosenLesson, CommandResult> choose_lesson(const std::string& wanted);

}  // namespace detent::cli
