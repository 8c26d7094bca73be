// Three texts of a proof differ in little. So what can differ is taken out of them: the declarations, the
// invariant and the step out of the question about a step, the values at the start and the watched condition
// out of the two others. From these all three are put together again, line by line, and compared with what is
// there. Whatever was put in, left out or changed in one of them makes a difference.
#include "cli/proof_form.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <vector>

#include "cli/proof_lines.hpp"
#include "solver/smtlib.hpp"

namespace detent::cli {
namespace {

using Lines = std::vector<std::string>;

constexpr std::array<const char*, 3> question_names{"start", "step", "claim"};

/// What the three questions share, and the three put together from it.
class Frame {
 public:
  /// Taken out of the question about a step; false where its parts are not what they must be.
  bool take(const std::vector<Line>& lines) {
    std::array<std::size_t, 4> marks{};
    std::size_t from = 0;
    for (std::size_t mark = 0; mark < marks.size(); ++mark) {
      constexpr std::array<const char*, 4> words{solver::invariant_begins, solver::invariant_ends,
                                                 solver::step_begins, solver::step_ends};
      while (from < lines.size() && lines[from].text != words[mark]) ++from;
      if (from == lines.size()) return false;
      marks[mark] = from;
    }
    const auto part = [&](std::size_t first, std::size_t last) {
      Lines some;
      for (std::size_t line = first; line < last; ++line) some.push_back(lines[line].text);
      return some;
    };
    declarations_ = part(std::min<std::size_t>(head().size(), marks[0]), marks[0]);
    invariant_ = part(marks[0], marks[1] + 1);
    step_ = part(marks[2] + 1, marks[3]);
    return read_declarations() && invariant_is_good() &&
           std::all_of(step_.begin(), step_.end(), is_step_command);
  }

  [[nodiscard]] Lines step() const {
    Lines lines = before_steps({});
    add(lines, {assertion(invariant_at("@0"))});
    add_step(lines, 0);
    add(lines, {fmt::format("(assert (not {}))", invariant_at("@1"))});
    return ended(std::move(lines));
  }

  /// `watched`: with bars and the moment @0.
  [[nodiscard]] Lines claim(std::size_t k, const std::string& watched) const {
    Lines lines = before_steps({});
    for (std::size_t step = 0; step < k; ++step) {
      add(lines, {assertion(invariant_at(fmt::format("@{}", step)))});
      add_step(lines, step);
      const std::string now = moved_on(watched, step);
      add(lines, {assertion(step + 1 < k ? fmt::format("(not {})", now) : now)});
    }
    return ended(std::move(lines));
  }

  [[nodiscard]] Lines start(std::size_t k, const std::string& watched, const Lines& values) const {
    Lines lines = before_steps(values);
    std::string wrongs = fmt::format("(not {})", invariant_at("@0"));
    for (std::size_t step = 0; step + 1 < k; ++step) {
      add_step(lines, step);
      wrongs += " " + moved_on(watched, step);
    }
    add(lines, {fmt::format("(assert (or {}))", wrongs)});
    return ended(std::move(lines));
  }

  [[nodiscard]] Lines first_step(const Lines& values) const {
    Lines lines = before_steps(values);
    add_step(lines, 0);
    return ended(std::move(lines));
  }

  /// The values before tick 0, out of the question about the start; fewer where they are not values.
  [[nodiscard]] Lines values(const std::vector<Line>& start) const {
    Lines found;
    for (std::size_t index = 0; index < remembered_.size(); ++index) {
      const std::size_t line = head().size() + declarations_.size() + index;
      const std::string begin = fmt::format("(assert (= |{}@0| ", remembered_[index].name);
      const std::string text = line < start.size() ? start[line].text : "";
      if (!text.starts_with(begin) || !text.ends_with("))")) break;
      const std::string value = text.substr(begin.size(), text.size() - begin.size() - 2);
      if (!is_literal(value, remembered_[index].sort)) break;
      found.push_back(text);
    }
    return found;
  }

  /// How many steps a question about the claim with so many lines has, at least 1.
  [[nodiscard]] std::size_t steps_in(std::size_t lines) const {
    const std::size_t around = before_steps({}).size() + 2 + 2;  // two marks, two lines at the end
    const std::size_t each = step_.size() + 2;
    return lines > around ? std::max<std::size_t>(1, (lines - around) / each) : 1;
  }

 private:
  static Lines head() { return {"(set-info :smt-lib-version 2.6)", "(set-logic QF_LIA)"}; }
  static std::string assertion(const std::string& term) { return fmt::format("(assert {})", term); }
  static void add(Lines& lines, const Lines& more) { lines.insert(lines.end(), more.begin(), more.end()); }
  static Lines ended(Lines lines) {
    add(lines, {"(check-sat)", "(exit)"});
    return lines;
  }

  bool read_declarations() {
    for (const std::string& line : declarations_) {
      const auto one = remembered(line);
      if (!one) return false;
      remembered_.push_back(*one);
    }
    return true;
  }

  [[nodiscard]] bool invariant_is_good() const {
    std::string parameters;
    std::set<std::string> names;
    for (const Remembered& one : remembered_) {
      parameters += fmt::format("(|{}| {}) ", one.name, one.sort);
      names.insert(fmt::format("|{}|", one.name));
    }
    if (invariant_.size() < 4 || invariant_[invariant_.size() - 2] != "))" ||
        invariant_[1] != fmt::format("(define-fun invariant ({}) Bool (and true", parameters))
      return false;
    return std::all_of(invariant_.begin() + 2, invariant_.end() - 2,
                       [&](const std::string& line) { return is_term_of(line, names); });
  }

  [[nodiscard]] std::string invariant_at(const std::string& moment) const {
    if (remembered_.empty()) return "invariant";
    std::string call = "(invariant";
    for (const Remembered& one : remembered_) call += fmt::format(" |{}{}|", one.name, moment);
    return call + ")";
  }

  [[nodiscard]] Lines before_steps(const Lines& values) const {
    Lines lines = head();
    add(lines, declarations_);
    add(lines, values);
    add(lines, invariant_);
    return lines;
  }

  void add_step(Lines& lines, std::size_t step) const {
    if (step == 0) lines.emplace_back(solver::step_begins);
    for (const std::string& line : step_) lines.push_back(moved_on(line, step));
    if (step == 0) lines.emplace_back(solver::step_ends);
  }

  Lines declarations_, invariant_, step_;
  std::vector<Remembered> remembered_;
};

std::optional<std::string> difference(const std::vector<Line>& seen, const Lines& wanted, const char* which) {
  for (std::size_t index = 0; index < std::max(seen.size(), wanted.size()); ++index) {
    if (index >= seen.size()) return fmt::format("the end of its question about the {} is missing", which);
    if (index >= wanted.size() || seen[index].text != wanted[index]) {
      return fmt::format("line {} of its question about the {} is not what belongs there", seen[index].number,
                         which);
    }
  }
  return std::nullopt;
}

std::string between(const std::string& text, const char* begin, const char* end) {
  const std::size_t first = text.find(begin);
  const std::size_t last = first == std::string::npos ? first : text.find(end, first);
  return last == std::string::npos ? "" : text.substr(first, last - first);
}

/// Said by name, as it is what most often differs.
std::optional<std::string> differing_part(const ProofTexts& texts) {
  const auto invariant = [](const std::string& text) {
    return between(text, solver::invariant_begins, solver::invariant_ends);
  };
  const auto step = [](const std::string& text) {
    return between(text, solver::step_begins, solver::step_ends);
  };
  for (const std::string& text : texts) {
    if (invariant(text).empty() || invariant(text) != invariant(texts[0])) {
      return "its questions do not speak of the same invariant";
    }
  }
  if (step(texts[1]).empty() || step(texts[2]) != step(texts[1])) {
    return "its questions do not speak of the same step";
  }
  return std::nullopt;
}

/// `|name@0|`, out of the last assertion of the question about the claim.
std::string watched_in(const std::vector<Line>& claim, std::size_t k) {
  const std::string text = claim.size() < 3 ? "" : claim[claim.size() - 3].text;
  const std::string end = fmt::format("@{}|)", k - 1);
  const std::string begin = "(assert |";
  if (!text.starts_with(begin) || !text.ends_with(end)) return "||";
  const std::string name = text.substr(begin.size(), text.size() - begin.size() - end.size());
  return name.find_first_of("|@") == std::string::npos ? fmt::format("|{}@0|", name) : "||";
}

}  // namespace

std::optional<std::string> objection_to_form(const ProofTexts& texts) {
  if (auto problem = differing_part(texts)) return problem;
  std::array<std::vector<Line>, 3> lines;
  for (std::size_t which = 0; which < texts.size(); ++which) {
    auto found = commands_of(texts[which]);
    if (!found) {
      return fmt::format("its question about the {} has a character in it that detent does not write",
                         question_names[which]);
    }
    lines[which] = std::move(*found);
  }
  Frame frame;
  if (!frame.take(lines[1])) return "its question about the step holds what detent does not write";
  const std::size_t k = frame.steps_in(lines[2].size());
  const std::string watched = watched_in(lines[2], k);
  if (auto problem = difference(lines[1], frame.step(), "step")) return problem;
  if (auto problem = difference(lines[2], frame.claim(k, watched), "claim")) return problem;
  return difference(lines[0], frame.start(k, watched, frame.values(lines[0])), "start");
}

std::string first_step_question(const ProofTexts& texts) {
  Frame frame;
  const auto step = commands_of(texts[1]);
  const auto start = commands_of(texts[0]);
  if (!step || !start || !frame.take(*step)) return "";
  return fmt::format("{}\n", fmt::join(frame.first_step(frame.values(*start)), "\n"));
}

}  // namespace detent::cli
