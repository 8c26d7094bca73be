// The order of things is the point of a lesson: the reader answers first, and only then is the machine asked.
#include "cli/lesson_talk.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <charconv>
#include <memory>

#include "cli/compare_text.hpp"
#include "cli/lesson_judge.hpp"
#include "cli/lesson_lines.hpp"
#include "cli/lesson_page.hpp"
#include "cli/line_editor.hpp"
#include "cli/output.hpp"
#include "cli/terminal.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

/// What could not be written.
struct Unheard {
  std::string text;
};
struct Stopped {};

constexpr std::size_t longest_answer = 400;  // bytes; what is longer is no answer to a question of a lesson

class Talk {
 public:
  Talk(const Lesson& lesson, const LessonWishes& wishes, const Settings& settings)
      : lesson_(lesson),
        wishes_(wishes),
        terminal_(choose_terminal(settings.terminal, look_around(STDOUT_FILENO))),
        judge_(lesson, settings),
        asking_(wishes.ask) {}

  CommandResult give() {
    try {
      begin();
      for (const LessonStep& step : lesson_.steps) std::visit([this](const auto& one) { show(one); }, step);
      end();
    } catch (Unheard& unheard) {
      return {.output = std::move(unheard.text)};
    } catch (const Stopped&) {
      return {.output = "\nStopped. The lesson is there whenever you want to go on.\n"};
    }
    return {.status = judge_.was_undecided() ? Status::undecided : Status::all_hold};
  }

 private:
  // ---- saying ----
  void say_text(const std::string& text) {
    if (!print(text)) throw Unheard{text};
  }
  void say(const Page& page) { say_text(render(page, terminal_)); }

  void begin() {
    Page page{{{lesson_.title, Style::strong}}};
    add_paragraph(page, "", spoken(lesson_.line), terminal_, Style::faint);
    say(page);
  }

  void end() {
    Page page{{}};
    if (compared_ > 0) {
      add_paragraph(
          page, "",
          fmt::format("You and the machine agreed in {} of {}.", agreed_, count_words(compared_, "question")),
          terminal_);
    }
    add_paragraph(page, "",
                  fmt::format("The designs as files, to play with: detent lesson {} --write {}", wishes_.name,
                              "FOLDER"),
                  terminal_);
    if (!wishes_.next.empty())
      add_paragraph(page, "", fmt::format("The next one: detent lesson {}", wishes_.next), terminal_);
    add_paragraph(page, "",
                  "A proof is about the model, not the wiring: blade or propeller off on the bench.",
                  terminal_);
    say(page);
  }

  // ---- steps ----
  void show(const LessonProse& prose) {
    const bool pause = prose.kind == LessonProse::Kind::heading && asking_ && person_;
    if (pause) {
      say_text("\n(Enter goes on, q stops) ");
      static_cast<void>(next_answer());
    }
    say(prose_page(prose, terminal_));
  }
  void show(const LessonDesign& design) { say(design_page(design)); }
  void show(const LessonMend& mend) {
    Page page;
    if (!last_words_.empty()) {
      page.push_back({});
      add_paragraph(page, "  You wrote: ", last_words_, terminal_);
    }
    add_page(page, mend_page(mend));
    if (!last_words_.empty())
      add_paragraph(page, "  ", "More than one mend may be right: the claims decide.", terminal_,
                    Style::faint);
    last_words_.clear();
    say(page);
  }
  void show(const LessonTask& task) { say(task_page(task, terminal_)); }

  void show(const LessonCheck& check) { say(verdicts_page(judge_.verdicts(check), terminal_)); }

  void show(const LessonComparison& both) {
    const CompareResult& result = judge_.comparison(both.a, both.b);
    Page page{{}};
    add_page(page, compare_page(result, {.figures = false}, terminal_));
    say(page);
  }

  void show(const LessonQuestion& question) {
    say(question_page(question, terminal_));
    if (question.choices.empty()) {
      if (const auto answer = ask("Your words (Enter: none): ")) last_words_ = *answer;
      return;
    }
    const std::optional<std::size_t> answer = ask_choice(question);
    hold_beside(question, answer);
  }

  // ---- asking ----
  /// Nothing where nobody answers, or only presses Enter.
  std::optional<std::string> ask(const std::string& prompt) {
    if (!asking_) return std::nullopt;
    say_text("  " + prompt);
    std::optional<std::string> answer = next_answer();
    if (!answer || answer->empty()) return std::nullopt;
    return answer;
  }

  std::optional<std::string> next_answer() {
    std::string line;
    if (!lines_->next("", line)) {
      asking_ = false;
      say_text("\n  (nobody answers: the rest follows without asking)\n");
      return std::nullopt;
    }
    line.resize(std::min(line.size(), longest_answer));
    const std::string answer(trimmed_view(line));
    if (answer == "q") throw Stopped{};
    // A terminal shows what is typed by itself.
    if (!person_) say_text(printable(answer, terminal_.unicode) + "\n");
    return answer;
  }

  std::optional<std::size_t> ask_choice(const LessonQuestion& question) {
    const std::size_t count = question.choices.size();
    while (const auto answer = ask(fmt::format("Your answer (1 to {}; Enter: no idea): ", count))) {
      std::size_t number = 0;
      const auto [end, error] = std::from_chars(answer->data(), answer->data() + answer->size(), number);
      if (error == std::errc() && end == answer->data() + answer->size() && number >= 1 && number <= count)
        return number - 1;
      say_text(fmt::format("  Write one of the numbers 1 to {}, or nothing.\n", count));
    }
    return std::nullopt;
  }

  void hold_beside(const LessonQuestion& question, std::optional<std::size_t> answer) {
    const std::optional<std::size_t> machine = judge_.choice(question);
    Page page{{}};
    if (answer) add_paragraph(page, "  You:      ", spoken(question.choices[*answer].text), terminal_);
    if (!machine) {
      add_paragraph(page, "  Machine:  ", "I could not decide it in the time I had; --timeout allows more.",
                    terminal_, Style::unsure);
      return say(page);
    }
    add_paragraph(page, "  Machine:  ", spoken(question.choices[*machine].text), terminal_, Style::strong);
    if (answer) {
      ++compared_;
      agreed_ += *answer == *machine ? 1 : 0;
      add_paragraph(page, "  ",
                    *answer == *machine
                        ? "You agree. Here is what it rests on."
                        : "You do not agree. See what it has to show, and judge for yourself.",
                    terminal_);
    }
    say(page);
  }

  const Lesson& lesson_;
  const LessonWishes& wishes_;
  Terminal terminal_;
  LessonJudge judge_;
  // No history and no completion: an answer is a number or a sentence that is never wanted again.
  std::unique_ptr<LineSource> lines_ = plain_lines(LongLine::cut);
  bool person_ = isatty(STDIN_FILENO) == 1 && isatty(STDOUT_FILENO) == 1;
  bool asking_;
  std::string last_words_;
  std::size_t compared_ = 0, agreed_ = 0;
};

}  // namespace

CommandResult give_lesson(const Lesson& lesson, const LessonWishes& wishes, const Settings& settings) {
  return Talk(lesson, wishes, settings).give();
}

}  // namespace detent::cli
