// A lesson: a text that shows designs, asks the reader, and lets the machine answer. It says nowhere what the
// machine will say: a choice only says what it would mean, and the machine finds out which of them fits.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace detent::cli {

struct LessonProse {
  enum class Kind { heading, paragraph, item };
  Kind kind = Kind::paragraph;
  std::string text;  ///< on one line
};

struct LessonDesign {
  std::string name;
  std::string text;
};

/// Lines of one design and what stands in their place in the next.
struct LessonChange {
  std::size_t line = 0;  ///< of the first line that goes, in the design before, from 1 on
  std::vector<std::string> removed;
  std::vector<std::string> added;
};

struct LessonMend {
  std::string name;  ///< of the design that comes out
  std::string from;
  std::vector<LessonChange> changes;
};

/// What a choice says of a claim; or, with an empty claim, of two designs side by side.
struct LessonMeaning {
  enum class Answer { proved, refuted, possible, impossible, says_nothing, same, differs };
  std::string claim;
  Answer answer = Answer::proved;
};

struct LessonChoice {
  std::string text;
  std::vector<LessonMeaning> means;  ///< all of these, and at least one
};

/// Without choices any words are an answer, and nobody judges them.
struct LessonQuestion {
  std::vector<std::string> designs;  ///< none (free words), one, or two to be put side by side
  std::string text;
  std::vector<LessonChoice> choices;
};

struct LessonCheck {
  std::string design;
  std::vector<std::string> claims;    ///< none: all
  std::optional<std::string> within;  ///< "200 ticks"; absent: for all time
};

struct LessonComparison {
  std::string a, b;
};

/// What a design of the reader's own needs beside what the lesson claims.
struct LessonTask {
  std::size_t claims = 0;  ///< of its own, about an output, that hold and say something
  std::string about;       ///< that output
};

using LessonStep = std::variant<LessonProse, LessonDesign, LessonMend, LessonQuestion, LessonCheck,
                                LessonComparison, LessonTask>;

struct Lesson {
  std::string title;
  std::string line;  ///< what it is about, in a sentence or three
  std::vector<LessonStep> steps;
  std::vector<LessonDesign> designs;  ///< all, mended ones too, in order
  std::optional<LessonTask> task;

  /// Null where there is none.
  [[nodiscard]] const LessonDesign* design(std::string_view name) const;
};

struct LessonProblem {
  std::size_t line = 1;
  std::string what;
  std::string mend;
};

/// The form is told in specs/lessons/README.md. Names of designs and lines to be mended are looked up; claims
/// are not (lesson_judge.hpp).
[[nodiscard]] std::variant<Lesson, LessonProblem> read_lesson(std::string_view text);

}  // namespace detent::cli
