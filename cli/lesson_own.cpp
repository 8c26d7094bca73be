// What would make it too easy is looked for first: a proof for hands that may do less than the lesson's hands
// is a proof of something else.
#include "cli/lesson_own.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "cli/errors_text.hpp"
#include "cli/heading.hpp"
#include "cli/interrupt.hpp"
#include "cli/page.hpp"
#include "cli/progress.hpp"
#include "cli/reader.hpp"
#include "cli/terminal.hpp"
#include "cli/verdict_text.hpp"
#include "cli/words.hpp"
#include "dsl/borrow.hpp"
#include "dsl/text.hpp"
#include "solver/forever.hpp"

namespace detent::cli {
namespace {

using dsl::Compiled;
using dsl::Element;
using solver::Outcome;
using solver::Verdict;

const std::string lesson_prefix = "lesson: ";

// ---- Whether it can be asked ----

bool is_input(const Element& element) {
  return !std::holds_alternative<dsl::ValueBody>(element.body) &&
         (element.keyword == "channel" || element.keyword == "switch" || element.keyword == "button" ||
          element.keyword == "link");
}

bool same_input(const Element& a, const Element& b) {
  if (a.keyword != b.keyword || a.positions != b.positions || a.type.unit != b.type.unit ||
      a.type.decimals != b.type.decimals)
    return false;
  const auto* one = std::get_if<dsl::ChannelBody>(&a.body);
  const auto* other = std::get_if<dsl::ChannelBody>(&b.body);
  return one == nullptr || (one->range == other->range && one->step == other->step &&
                            one->most_per_tick == other->most_per_tick);
}

const Element* find(const Compiled& design, const std::string& name) {
  for (const Element& element : design.design->elements) {
    if (element.name == name) return &element;
  }
  return nullptr;
}

const char* edges_word(dsl::EdgeRule rule) {
  if (rule == dsl::EdgeRule::counted) return "counted";
  return rule == dsl::EdgeRule::ignored ? "ignored" : "either";
}

/// Whether the lesson assumes the same, word for word. Rate limits are looked at with their channels.
bool is_assumed(const dsl::Constraint& one, const Compiled& mine, const Compiled& theirs) {
  const auto same = [&](const dsl::Constraint& other) {
    return other.name == one.name && dsl::one_line(theirs.sources.line_text(other.place)) ==
                                         dsl::one_line(mine.sources.line_text(one.place));
  };
  const std::vector<dsl::Constraint>& all = theirs.model->constraints;
  return one.rate || std::any_of(all.begin(), all.end(), same);
}

/// Why the design can't be held against the lesson's, or nothing.
std::optional<CommandResult> objection(const Compiled& mine, const Compiled& theirs) {
  if (mine.model->tick_us != theirs.model->tick_us)
    return usage_error("the design has another tick than the lesson's",
                       fmt::format("write: tick {}", dsl::time_text(1, theirs.model->tick_us)));
  if (mine.design->edges != theirs.design->edges)
    return usage_error("the design has another rule for power-up than the lesson's",
                       fmt::format("write: power_up edges {}", edges_word(theirs.design->edges)));
  for (const Element& element : theirs.design->elements) {
    if (!is_input(element)) continue;
    const Element* own = find(mine, element.name);
    if (own == nullptr || !is_input(*own) || !same_input(*own, element))
      return usage_error(
          fmt::format("the design needs the input '{}' just as the lesson has it", element.name),
          fmt::format("write: {}", theirs.sources.line_text(element.place)));
  }
  for (const dsl::Constraint& one : mine.model->constraints) {
    if (is_assumed(one, mine, theirs)) continue;
    return usage_error(
        fmt::format("the design assumes something of the hands ('{}', line {}), which the lesson does not",
                    one.name, mine.sources.line_column(one.place).line),
        "leave the assumption out: what is asked is asked whatever the hands do");
  }
  return std::nullopt;
}

// ---- Asking ----

std::optional<CommandResult> borrow_claims(const Compiled& theirs, Compiled& mine) {
  std::vector<dsl::Wanted> wanted;
  const auto texts = dsl::claim_texts(theirs);
  for (const dsl::Claim& claim : theirs.model->claims) {
    const auto text = texts.find(claim.name);
    wanted.push_back({lesson_prefix + claim.name, text == texts.end() ? "" : text->second});
  }
  mine = dsl::compile_with(mine, wanted, {});
  for (const dsl::Wanted& one : wanted) {
    if (one.problem.empty()) continue;
    return usage_error(fmt::format("'{}' can't be asked of the design: {}",
                                   one.name.substr(lesson_prefix.size()), one.problem),
                       fmt::format("the design needs what this claim names: {}", one.declaration));
  }
  return std::nullopt;
}

bool is_borrowed(const dsl::Claim& claim) {
  return claim.name.starts_with(lesson_prefix);
}

bool is_met(const Verdict& verdict) {
  return (verdict.outcome == Outcome::proved && !verdict.vacuous) || verdict.outcome == Outcome::shown;
}

/// Whether a claim of the design's own says what one of the lesson says.
bool repeats_lesson(const dsl::Model& model, const dsl::Claim& claim) {
  return !is_borrowed(claim) &&
         std::any_of(model.claims.begin(), model.claims.end(), [&](const dsl::Claim& other) {
           return is_borrowed(other) && (other.text == claim.text || other.watch == claim.watch);
         });
}

/// Whether a claim is one of the reader's own that the task can count: not one of the lesson's over again.
bool counts(const dsl::Model& model, const Verdict& verdict, const LessonTask& task) {
  const dsl::Claim& claim = model.claims[verdict.claim];
  if (is_borrowed(claim) || verdict.outcome != Outcome::proved || verdict.vacuous) return false;
  if (repeats_lesson(model, claim)) return false;
  const auto names_it = [&](std::uint32_t signal) { return model.signals[signal].name == task.about; };
  const auto in = [&](const dsl::Piece& piece) {
    return std::any_of(piece.mentions.begin(), piece.mentions.end(), names_it);
  };
  return in(claim.first) || (claim.second && in(*claim.second));
}

class Answer {
 public:
  Answer(const Lesson& lesson, const Compiled& design, const solver::Report& report, const Terminal& terminal)
      : lesson_(lesson), design_(design), model_(*design.model), report_(report), terminal_(terminal) {}

  CommandResult tell() {
    page_.push_back(heading_of(design_));
    add_paragraph(page_, "", fmt::format("Held against the lesson \"{}\".", lesson_.title), terminal_);
    tell_claims("Asked by the lesson", true);
    tell_claims("Claimed by the design itself beside that", false);
    if (lesson_.task) tell_task(*lesson_.task);
    page_.push_back({});
    const bool all = failed_ == 0 && open_ == 0;
    add_paragraph(page_, "",
                  all ? "All that is asked is met." : fmt::format("Not yet: {} not met.", failed_ + open_),
                  terminal_, all ? Style::good : Style::unsure);
    add_paragraph(page_, "",
                  "A proof is about the model, not the wiring: blade or propeller off on the bench.",
                  terminal_);
    return {.output = render(page_, terminal_),
            .status = failed_ > 0 ? Status::refuted
                      : open_ > 0 ? Status::undecided
                                  : Status::all_hold};
  }

 private:
  void tell_claims(const char* heading, bool borrowed) {
    bool first = true;
    for (const Verdict& verdict : report_.verdicts) {
      const dsl::Claim& claim = model_.claims[verdict.claim];
      if (is_borrowed(claim) != borrowed || repeats_lesson(model_, claim)) continue;
      if (first) {
        page_.push_back({});
        page_.push_back({{heading, Style::strong}});
      }
      first = false;
      tell_claim(claim, verdict);
    }
  }

  void tell_claim(const dsl::Claim& claim, const Verdict& verdict) {
    const std::string name = is_borrowed(claim) ? claim.name.substr(lesson_prefix.size()) : claim.name;
    if (is_met(verdict)) {
      page_.push_back({{"  met      ", Style::good}, {name}, {"  "}, {verdict_words(model_, verdict).text}});
      return;
    }
    ++(verdict.outcome == Outcome::undecided ? open_ : failed_);
    page_.push_back({{"  not met  ", Style::bad}, {name}, {"  "}, verdict_words(model_, verdict)});
    add_page(page_, verdict_block(model_, design_.sources, verdict, {.head = false}, terminal_));
    page_.push_back({});
  }

  void tell_task(const LessonTask& task) {
    const auto count = static_cast<std::size_t>(
        std::count_if(report_.verdicts.begin(), report_.verdicts.end(),
                      [&](const Verdict& verdict) { return counts(model_, verdict, task); }));
    const bool enough = count >= task.claims;
    failed_ += enough ? 0 : 1;
    page_.push_back({});
    add_paragraph(
        page_, enough ? "  met      " : "  not met  ",
        fmt::format("Of its own, about '{}', proved, and none of the lesson's over again: {}; asked for: {}",
                    task.about, count_words(count, "claim"), task.claims),
        terminal_, enough ? Style::good : Style::bad);
  }

  const Lesson& lesson_;
  const Compiled& design_;
  const dsl::Model& model_;
  const solver::Report& report_;
  const Terminal& terminal_;
  Page page_;
  std::size_t failed_ = 0, open_ = 0;
};

solver::Report ask_all(const dsl::Model& model, const Settings& settings) {
  const Interrupt interrupt;
  ProgressLine line;
  return solver::check_forever(model, {.timeout = settings.timeout.value_or(usual_patience),
                                       .memory_mib = settings.memory_mib,
                                       .cancel = interrupt.flag(),
                                       .progress = [&line](std::size_t open) { line.show(open); },
                                       .jobs = settings.jobs,
                                       .side_findings = false});
}

}  // namespace

CommandResult hold_against(const Lesson& lesson, const std::string& file, const Settings& settings) {
  if (lesson.designs.empty())
    return usage_error("--with: this lesson has no design to hold one against", "leave out --with");
  Compiled mine = dsl::compile(source_name(file), file_reader(file));
  if (!mine.model) {
    const Terminal errors = choose_terminal(settings.terminal, look_around(2));
    return {.errors = render(errors_page(mine, errors), errors), .status = Status::input_wrong};
  }
  const LessonDesign& last = lesson.designs.back();
  const Compiled theirs = dsl::compile_text(last.name, last.text);
  if (auto problem = objection(mine, theirs)) return std::move(*problem);
  if (auto problem = borrow_claims(theirs, mine)) return std::move(*problem);
  const solver::Report report = ask_all(*mine.model, settings);
  if (report.no_run_of)
    return usage_error("what this lesson assumes contradicts itself, so that there is no run at all",
                       "the lesson has to be mended");
  const Terminal terminal = choose_terminal(settings.terminal, look_around(1));
  return Answer(lesson, mine, report, terminal).tell();
}

}  // namespace detent::cli
