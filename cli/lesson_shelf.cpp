#include "cli/lesson_shelf.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <stdexcept>

#include "cli/lesson_judge.hpp"
#include "cli/lesson_lines.hpp"
#include "cli/page.hpp"
#include "cli/reader.hpp"
#include "cli/shipped_texts.hpp"
#include "cli/terminal.hpp"
#include "dsl/diagnostics.hpp"

namespace detent::cli {
namespace {

using Choice = std::variant<ChosenLesson, CommandResult>;

Lesson lesson_of(const ShelvedLesson& shelved) {
  auto read = read_lesson(shelved.text);
  if (const auto* problem = std::get_if<LessonProblem>(&read))
    throw std::runtime_error(
        fmt::format("lesson {}, line {}: {}", shelved.name, problem->line, problem->what));
  return std::get<Lesson>(std::move(read));
}

Choice from_shelf(const std::vector<ShelvedLesson>& lessons, std::size_t index) {
  const ShelvedLesson& one = lessons[index];
  const std::string next =
      index + 1 < lessons.size() ? fmt::format("{}", lessons[index + 1].number) : std::string();
  return ChosenLesson{fmt::format("{}", one.number), one.name, next, lesson_of(one)};
}

std::string name_of_file(const std::string& path) {
  std::string name = path.substr(path.rfind('/') + 1);
  name = name.substr(0, name.find('.'));
  return is_plain_name(name) ? name : "lesson";
}

Choice from_file(const std::string& path) {
  const dsl::FileText file = file_reader(path)(path);
  if (!file.text)
    return usage_error(fmt::format("lesson: '{}' {}", printable(path, true), file.problem),
                       "name a lesson by its number, or a file that holds one");
  auto read = read_lesson(*file.text);
  std::optional<LessonProblem> problem;
  if (const auto* found = std::get_if<LessonProblem>(&read)) problem = *found;
  if (!problem) problem = lesson_objection(std::get<Lesson>(read));
  if (problem) {
    return usage_error(
        fmt::format("{}:{}: {}", printable(path, true), problem->line, printable(problem->what, true)),
        printable(problem->mend, true));
  }
  return ChosenLesson{path, name_of_file(path), "", std::get<Lesson>(std::move(read))};
}

CommandResult unknown(const std::string& wanted, const std::vector<ShelvedLesson>& lessons) {
  std::vector<std::string> names;
  for (const ShelvedLesson& one : lessons) names.push_back(one.name);
  const std::string near = dsl::nearest_name(wanted, names);
  return usage_error(
      fmt::format("there is no lesson '{}'", printable(wanted, true)),
      near.empty() ? fmt::format("write a number from 1 to {}; detent lesson lists them all", lessons.size())
                   : fmt::format("did you mean '{}'?", near));
}

}  // namespace

std::vector<ShelvedLesson> shelved_lessons() {
  std::vector<ShelvedLesson> lessons;
  for (const ShippedText& one : shipped_lessons()) {
    const std::size_t line = one.name.find('_');
    ShelvedLesson lesson{.number = 0, .name = std::string(one.name.substr(line + 1)), .text = one.text};
    std::from_chars(one.name.data(), one.name.data() + line, lesson.number);
    lessons.push_back(std::move(lesson));
  }
  std::sort(lessons.begin(), lessons.end(),
            [](const ShelvedLesson& a, const ShelvedLesson& b) { return a.number < b.number; });
  return lessons;
}

std::variant<ChosenLesson, CommandResult> choose_lesson(const std::string& wanted) {
  if (wanted.find('/') != std::string::npos || wanted.ends_with(".md")) return from_file(wanted);
  const std::vector<ShelvedLesson> lessons = shelved_lessons();
  for (std::size_t index = 0; index < lessons.size(); ++index) {
    if (wanted == lessons[index].name || wanted == fmt::format("{}", lessons[index].number))
      return from_shelf(lessons, index);
  }
  return unknown(wanted, lessons);
}

}  // namespace detent::cli
