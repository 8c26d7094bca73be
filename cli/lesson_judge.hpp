// The machine's side of a lesson: what it says of the lesson's designs, asked when it is needed and only
// once.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>

#include "cli/check_result.hpp"
#include "cli/compare_result.hpp"
#include "cli/lesson.hpp"
#include "cli/settings.hpp"

namespace detent::cli {

class LessonJudge {
 public:
  /// Keeps references to both. Every design of the lesson must compile, and have the claims that are named
  /// (lesson_objection).
  LessonJudge(const Lesson& lesson, const Settings& settings) : lesson_(lesson), settings_(settings) {}

  /// All claims of a design, or those of a check within its bound, as `detent check` has them.
  [[nodiscard]] const CheckResult& verdicts(const LessonCheck& check);
  /// Two designs, as `detent compare` has them.
  [[nodiscard]] const CompareResult& comparison(const std::string& a, const std::string& b);

  /// The choice that fits what the machine says, by index; nothing where it is undecided (or none fits).
  [[nodiscard]] std::optional<std::size_t> choice(const LessonQuestion& question);

  /// Something that was asked is undecided.
  [[nodiscard]] bool was_undecided() const { return undecided_; }

 private:
  [[nodiscard]] bool is(const LessonQuestion& question, const LessonMeaning& meaning);

  const Lesson& lesson_;
  const Settings& settings_;
  std::map<std::string, CheckResult> checked_;  ///< by design, claims and bound
  std::map<std::pair<std::string, std::string>, CompareResult> compared_;
  bool undecided_ = false;
};

/// What is wrong with the designs of a lesson: one that has mistakes, or a claim that it has not; or nothing.
[[nodiscard]] std::optional<LessonProblem> lesson_objection(const Lesson& lesson);

/// A file's name for a design of a lesson: "latch_hole.detent".
[[nodiscard]] std::string lesson_file(const std::string& lesson, const std::string& design);

}  // namespace detent::cli
