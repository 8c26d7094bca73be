// A choice and what it would mean: `- Yes, always. [stop_stops proved, can_run possible]`.
#include <fmt/format.h>

#include <utility>

#include "cli/lesson_lines.hpp"

namespace detent::cli {
namespace {

LessonMeaning meaning_of(const NumberedLine& line, const std::string& words) {
  using Answer = LessonMeaning::Answer;
  static const std::vector<std::pair<std::string, Answer>> answers{{"proved", Answer::proved},
                                                                   {"refuted", Answer::refuted},
                                                                   {"possible", Answer::possible},
                                                                   {"impossible", Answer::impossible},
                                                                   {"says nothing", Answer::says_nothing}};
  if (words == "same") return {"", Answer::same};
  if (words == "differs") return {"", Answer::differs};
  for (const auto& [word, answer] : answers) {
    if (words.ends_with(" " + word))
      return {std::string(trimmed_view(std::string_view(words).substr(0, words.size() - word.size()))),
              answer};
  }
  throw LessonProblem{
      line.number, fmt::format("'{}' is nothing that a choice can mean", words),
      "write [CLAIM proved], refuted, possible, impossible or says nothing; or of two designs "
      "[same] or [differs]"};
}

}  // namespace

LessonChoice choice_of(const NumberedLine& line) {
  const std::size_t open = line.text.rfind('[');
  if (open == std::string::npos || !line.text.ends_with("]"))
    throw LessonProblem{line.number, "this choice does not say what it would mean",
                        "end it in brackets: - Yes, always. [stop_stops proved]"};
  LessonChoice choice{.text = std::string(trimmed_view(std::string_view(line.text).substr(2, open - 2))),
                      .means = {}};
  const std::string inside = line.text.substr(open + 1, line.text.size() - open - 2);
  for (const std::string& words : parted(inside, ',')) choice.means.push_back(meaning_of(line, words));
  return choice;
}

}  // namespace detent::cli
