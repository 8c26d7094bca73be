#include "cli/cmd_lesson.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <filesystem>
#include <system_error>

#include "cli/lesson_judge.hpp"
#include "cli/lesson_own.hpp"
#include "cli/lesson_page.hpp"
#include "cli/lesson_shelf.hpp"
#include "cli/lesson_talk.hpp"
#include "cli/page.hpp"
#include "cli/settings.hpp"
#include "cli/terminal.hpp"
#include "cli/whole_file.hpp"

namespace detent::cli {
namespace {

namespace fs = std::filesystem;

CommandResult list(const Settings& settings) {
  const Terminal terminal = choose_terminal(settings.terminal, look_around(1));
  Page page;
  add_paragraph(page, "",
                "Lessons, for somebody who has never heard of logic. In each you guess first, and then the "
                "machine has its say.",
                terminal);
  page.push_back({});
  for (const ShelvedLesson& one : shelved_lessons()) {
    const auto choice = choose_lesson(one.name);
    const Lesson& lesson = std::get<ChosenLesson>(choice).lesson;
    add_paragraph(page, fmt::format("  {}  {:<13}", one.number, one.name), spoken(lesson.title), terminal);
  }
  page.push_back({});
  add_paragraph(page, "", "Begin with: detent lesson 1", terminal);
  return {.output = render(page, terminal)};
}

CommandResult cannot_write(const std::string& file, int error) {
  const std::string name = printable(file, true);
  if (error == EEXIST)
    return usage_error(fmt::format("--write: '{}' is there already, and stays as it is", name),
                       "name another folder, or move what is in this one");
  return usage_error(
      fmt::format("--write: can't write '{}': {}", name, std::generic_category().message(error)),
      "name a folder that can be made or written to, on a disk with room");
}

CommandResult write_designs(const ChosenLesson& chosen, const std::string& folder) {
  if (folder.empty())
    return usage_error("--write: the folder has no name", "write for example --write lessons");
  std::error_code problem;
  fs::create_directories(folder, problem);
  if (problem && !fs::is_directory(folder)) return cannot_write(folder, problem.value());
  std::vector<std::string> files;
  for (const LessonDesign& design : chosen.lesson.designs)
    files.push_back((fs::path(folder) / lesson_file(chosen.name, design.name)).string());
  for (const std::string& file : files) {  // all or none
    if (fs::exists(fs::symlink_status(file, problem))) return cannot_write(file, EEXIST);
  }
  std::string output;
  for (std::size_t index = 0; index < files.size(); ++index) {
    const LessonDesign& design = chosen.lesson.designs[index];
    const std::string text = fmt::format(
        "// From the lesson \"{}\": '{}'. Blade or propeller off on the bench: a proof is about this "
        "text.\n{}",
        chosen.lesson.title, design.name, design.text);
    if (const int error = write_new_file(files[index], text)) return cannot_write(files[index], error);
    output += "Written: " + printable(files[index], true) + "\n";
  }
  return {.output = output + "Change what you like, and check it: detent check FILE\n"};
}

}  // namespace

CommandResult lesson(const LessonOptions& options) {
  auto read = read_settings(options);
  if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
  const Settings& settings = std::get<Settings>(read);
  if (!options.lesson) {
    if (options.with || options.write || options.all_at_once)
      return usage_error("no lesson is named", "write its number, for example: detent lesson 1");
    return list(settings);
  }
  if (static_cast<int>(options.with.has_value()) + static_cast<int>(options.write.has_value()) +
          static_cast<int>(options.all_at_once) >
      1)
    return usage_error("--with, --write and --all-at-once don't go together",
                       "leave out all but one of them");
  auto choice = choose_lesson(*options.lesson);
  if (auto* problem = std::get_if<CommandResult>(&choice)) return std::move(*problem);
  const ChosenLesson& chosen = std::get<ChosenLesson>(choice);
  if (options.write) return write_designs(chosen, *options.write);
  if (options.with) return hold_against(chosen.lesson, *options.with, settings);
  return give_lesson(
      chosen.lesson,
      {.ask = !options.all_at_once, .name = printable(chosen.called, true), .next = chosen.next}, settings);
}

}  // namespace detent::cli
