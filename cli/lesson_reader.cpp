// Line by line: prose, and fenced blocks whose first word says what they are. The first problem ends it, as
// whoever writes a lesson has it before them.
#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "cli/lesson.hpp"
#include "cli/lesson_lines.hpp"
#include "dsl/diagnostics.hpp"

namespace detent::cli {
namespace {

using Words = std::vector<std::string>;

/// Also the order in which the problem with an unknown word lists them.
const Words block_words{"detent", "mend", "ask", "check", "compare", "own"};

class Reader {
 public:
  explicit Reader(std::string_view text) : lines_(numbered_lines(text)) {}

  Lesson read() {
    read_title();
    while (next_ < lines_.size()) {
      const NumberedLine& line = lines_[next_];
      if (line.text.empty()) {
        ++next_;
      } else if (line.text.starts_with("```")) {
        read_block();
      } else {
        read_prose();
      }
    }
    if (lesson_.line.empty())
      throw LessonProblem{1, "the lesson has no sentence that says what it is about",
                          "write one below the title; the list of lessons shows it"};
    return std::move(lesson_);
  }

 private:
  void read_title() {
    if (lines_.empty() || !lines_[0].text.starts_with("# "))
      throw LessonProblem{1, "the lesson has no title", "begin with a line: # TITLE"};
    lesson_.title = lines_[0].text.substr(2);
    next_ = 1;
  }

  // ---- prose ----
  void read_prose() {
    const NumberedLine& line = lines_[next_];
    if (line.text.starts_with("## ")) {
      ++next_;
      return add(LessonProse{LessonProse::Kind::heading, line.text.substr(3)});
    }
    const bool item = line.text.starts_with("- ");
    std::string text = item ? line.text.substr(2) : line.text;
    while (++next_ < lines_.size() && goes_on(lines_[next_].text))
      text.append(" ").append(trimmed_view(lines_[next_].text));
    if (lesson_.line.empty() && !item) {
      lesson_.line = text;
    } else {
      add(LessonProse{item ? LessonProse::Kind::item : LessonProse::Kind::paragraph, std::move(text)});
    }
  }

  static bool goes_on(const std::string& text) {
    return !text.empty() && !text.starts_with("```") && !text.starts_with("- ") && !text.starts_with("#");
  }

  // ---- blocks ----
  void read_block() {
    head_ = lines_[next_];
    const Words words = parted(head_.text.substr(3), ' ');
    std::vector<NumberedLine> body;
    while (++next_ < lines_.size() && lines_[next_].text != "```") body.push_back(lines_[next_]);
    if (next_ == lines_.size()) throw LessonProblem{head_.number, "this block has no end", "end it with ```"};
    ++next_;
    const std::string kind = words.empty() ? "" : words.front();
    const Words names = words.empty() ? Words{} : Words(words.begin() + 1, words.end());
    if (kind == "detent") return read_design(names, body);
    if (kind == "mend") return read_mend(names, body);
    if (kind == "ask") return read_question(names, body);
    if (kind == "check") return read_check(names, body);
    if (kind == "compare") return read_comparison(names, body);
    if (kind == "own") return read_task(names, body);
    const std::string near = dsl::nearest_name(kind, block_words);
    throw LessonProblem{head_.number, fmt::format("there is no block '{}'", kind),
                        near.empty() ? fmt::format("write one of: {}", fmt::join(block_words, ", "))
                                     : fmt::format("did you mean '{}'?", near)};
  }

  void read_design(const Words& names, const std::vector<NumberedLine>& body) {
    want(names, 1, "detent NAME");
    want_new(names[0]);
    LessonDesign design{names[0], ""};
    for (const NumberedLine& line : body) design.text += line.text + '\n';
    lesson_.designs.push_back(design);
    add(std::move(design));
  }

  void read_mend(const Words& names, const std::vector<NumberedLine>& body) {
    if (names.size() != 3 || names[1] != "from") wrong_names("mend NAME from NAME");
    want_new(names[0]);
    const LessonDesign& before = known(names[2]);
    MendedText mended = mend_text(before.text, body);
    lesson_.designs.push_back({names[0], std::move(mended.text)});
    add(LessonMend{names[0], names[2], std::move(mended.changes)});
  }

  void read_question(const Words& names, const std::vector<NumberedLine>& body) {
    LessonQuestion question{.designs = names, .text = {}, .choices = {}};
    for (const std::string& name : names) static_cast<void>(known(name));
    for (const NumberedLine& line : body) {
      if (line.text.starts_with("- ")) {
        question.choices.push_back(choice_of(line));
        want_meanings(question, line);
      } else if (question.choices.empty()) {
        question.text += (question.text.empty() ? "" : " ") + line.text;
      } else {
        throw LessonProblem{line.number, "this line stands behind the choices", "put a choice on one line"};
      }
    }
    if (question.text.empty()) throw LessonProblem{head_.number, "nothing is asked", "write the question"};
    if (names.size() > 2 || names.empty() != question.choices.empty() || question.choices.size() == 1)
      throw LessonProblem{head_.number, "a question to the machine needs one or two designs and two choices",
                          "write: ask NAME, and choices; or ask without a name for free words"};
    add(std::move(question));
  }

  static void want_meanings(const LessonQuestion& question, const NumberedLine& line) {
    for (const LessonMeaning& one : question.choices.back().means) {
      if (one.claim.empty() != (question.designs.size() == 2))
        throw LessonProblem{line.number, "this choice does not fit the designs that are asked about",
                            "of one design say what a claim is; of two say [same] or [differs]"};
    }
  }

  void read_check(const Words& names, const std::vector<NumberedLine>& body) {
    want(names, 1, "check NAME");
    LessonCheck check{.design = known(names[0]).name, .claims = {}, .within = {}};
    for (const NumberedLine& line : body) {
      if (line.text.starts_with("claim ")) {
        check.claims.push_back(line.text.substr(6));
      } else if (line.text.starts_with("within ") && !check.within) {
        check.within = line.text.substr(7);
      } else {
        throw LessonProblem{line.number, fmt::format("'{}' is nothing that a check knows", line.text),
                            "write: claim NAME, or once: within 200 ticks"};
      }
    }
    add(std::move(check));
  }

  void read_comparison(const Words& names, const std::vector<NumberedLine>& body) {
    want(names, 2, "compare NAME NAME");
    if (!body.empty()) throw LessonProblem{body[0].number, "nothing stands in this block", "leave it empty"};
    add(LessonComparison{known(names[0]).name, known(names[1]).name});
  }

  void read_task(const Words& names, const std::vector<NumberedLine>& body) {
    want(names, 0, "own");
    if (lesson_.task) throw LessonProblem{head_.number, "there is a task already", "keep one of the two"};
    LessonTask task;
    for (const NumberedLine& line : body) {
      const Words words = parted(line.text, ' ');
      const bool pair = words.size() == 2;
      if (pair && words[0] == "about") {
        task.about = words[1];
      } else if (!pair || words[0] != "claims" || !read_count(words[1], task.claims)) {
        throw LessonProblem{line.number, fmt::format("'{}' is nothing that a task knows", line.text),
                            "write: claims 1, and: about OUTPUT"};
      }
    }
    if (task.about.empty())
      throw LessonProblem{head_.number, "the task does not say what it is about", "write: about OUTPUT"};
    lesson_.task = task;
    add(task);
  }

  static bool read_count(const std::string& text, std::size_t& count) {
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), count);
    return error == std::errc() && end == text.data() + text.size() && count <= 100;
  }

  // ---- names ----
  void want(const Words& names, std::size_t count, const char* form) const {
    if (names.size() != count) wrong_names(form);
  }
  [[noreturn]] void wrong_names(const char* form) const {
    throw LessonProblem{head_.number, fmt::format("'{}' does not name what it should", head_.text.substr(3)),
                        fmt::format("write ```{}", form)};
  }
  void want_new(const std::string& name) const {
    if (!is_plain_name(name))
      throw LessonProblem{head_.number, fmt::format("'{}' can't be the name of a design", name),
                          "use small letters, digits and _"};
    if (lesson_.design(name) != nullptr)
      throw LessonProblem{head_.number, fmt::format("there is a design '{}' already", name),
                          "give this one another name"};
  }
  [[nodiscard]] const LessonDesign& known(const std::string& name) const {
    if (const LessonDesign* design = lesson_.design(name)) return *design;
    Words names;
    for (const LessonDesign& one : lesson_.designs) names.push_back(one.name);
    const std::string near = dsl::nearest_name(name, names);
    throw LessonProblem{
        head_.number, fmt::format("there is no design '{}' above", name),
        near.empty() ? "name one that has been shown" : fmt::format("did you mean '{}'?", near)};
  }

  void add(LessonStep step) { lesson_.steps.push_back(std::move(step)); }

  std::vector<NumberedLine> lines_;
  std::size_t next_ = 0;
  NumberedLine head_;
  Lesson lesson_;
};

}  // namespace

const LessonDesign* Lesson::design(std::string_view name) const {
  const auto found =
      std::find_if(designs.begin(), designs.end(), [&](const LessonDesign& one) { return one.name == name; });
  return found == designs.end() ? nullptr : &*found;
}

std::variant<Lesson, LessonProblem> read_lesson(std::string_view text) {
  try {
    return Reader(text).read();
  } catch (LessonProblem& problem) {
    return std::move(problem);
  }
}

}  // namespace detent::cli
