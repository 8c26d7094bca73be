// One block a claim. Refuted in capitals: it must be seen without colour.
#include "cli/verdict_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/breakage.hpp"
#include "cli/relevance.hpp"
#include "cli/story.hpp"
#include "cli/timing.hpp"
#include "cli/words.hpp"
#include "solver/interpreter.hpp"

namespace detent::cli {
namespace {

using dsl::Claim;
using dsl::Model;
using dsl::Value;
using solver::Limit;
using solver::Outcome;
using solver::Verdict;

constexpr const char* indent = "    ";

/// Ticks are counted from 0, and the story names the last one: both numbers are said.
std::string run_length(const Model& model, const Verdict& verdict) {
  if (!verdict.run) return ticks_words(verdict.ticks, model.tick_us);
  const std::size_t ticks = verdict.run->ticks();
  if (ticks <= 1) return "1 tick (tick 0)";
  return fmt::format("{} ticks (tick 0 to {})", ticks, ticks - 1);
}

std::string refuted_words(const Verdict& verdict, const std::string& length) {
  if (verdict.run) return "REFUTED by a run of " + length;
  if (verdict.proof) return "REFUTED: no run of any length does it";
  return "REFUTED: no run does it in " + length;
}

std::string undecided_words(const Model& model, const Verdict& verdict) {
  const char* so_far = model.claims[verdict.claim].possible ? "no run does it" : "not broken";
  if (verdict.events == 0 && verdict.ticks > 0) {
    return fmt::format("undecided, {} up to {}", so_far, ticks_words(verdict.ticks, model.tick_us));
  }
  if (verdict.events > 0) {
    return fmt::format("undecided, {} in {}, nor in {}", so_far,
                       count_words(static_cast<std::size_t>(verdict.events), "event"),
                       ticks_words(verdict.ticks, model.tick_us));
  }
  return "undecided";
}

std::string limit_words(Limit limit) {
  switch (limit) {
    case Limit::none:
      return "";
    case Limit::ticks:
      return "Longer runs were not looked at; --within asks for more ticks.";
    case Limit::time:
      return "The time allowed by --timeout was over; allow more, or look at fewer ticks (--within).";
    case Limit::memory:
      return "The memory allowed by --memory was used up; allow more, or look at fewer ticks (--within).";
    case Limit::interrupted:
      return "The check was stopped before this was decided (by you, or by --total-timeout).";
    case Limit::run_too_long:
      return "There is a run that decides it, but it is too long to be played again tick by tick, and so it "
             "is not shown: use shorter times or a longer tick.";
    case Limit::solver_gave_up:
      return "The solver gave up on it; looking at fewer ticks (--within) or at this claim alone (--claim) "
             "may help.";
  }
  return "";
}

std::string stopped_words(Limit limit) {
  switch (limit) {
    case Limit::time:
      return "the time allowed by --timeout was over";
    case Limit::memory:
      return "the memory allowed by --memory was used up";
    case Limit::interrupted:
      return "the check was stopped";
    default:
      return "the solver gave up";
  }
}

/// Of a run that is not known to be the shortest.
std::string shorter_words(const Model& model, const Verdict& verdict) {
  const std::string known =
      verdict.ticks > 0 ? fmt::format(" none of up to {} does,", ticks_words(verdict.ticks, model.tick_us))
                        : "";
  return fmt::format("A shorter run may do as well:{} but then {}.", known, stopped_words(verdict.limit));
}

/// The condition that a claim is about: the part behind `while`, else its first part.
const dsl::Piece& premise_of(const Claim& claim) {
  const bool second = claim.second && claim.second->node == claim.premise;
  return second ? *claim.second : claim.first;
}

std::string vacuous_words(const Model& model, const Verdict& verdict) {
  const Claim& claim = model.claims[verdict.claim];
  const dsl::Piece& condition = premise_of(claim);
  const std::string reach =
      verdict.outcome == Outcome::proved ? std::string("any run") : ticks_words(verdict.ticks, model.tick_us);
  return fmt::format("It says nothing: its condition '{}' never comes true in {}.", condition.text, reach);
}

// ---- The block ----

/// Verdict, name and place on as few lines as they fit on.
void add_head(Page& page, const Model& model, const dsl::Sources& sources, const Verdict& verdict,
              const Terminal& terminal) {
  const Claim& claim = model.claims[verdict.claim];
  const Span word = verdict_words(model, verdict);
  std::vector<std::string> parts = wrapped(word.text, terminal.width);
  std::size_t width = columns(parts.back());
  Line line{{std::move(parts.back()), word.style}};
  parts.pop_back();
  for (std::string& part : parts) page.push_back({{std::move(part), word.style}});
  for (const Span& span :
       {Span{claim.name, Style::strong}, Span{line_words(sources, claim.place), Style::faint}}) {
    const bool fits = width + 2 + columns(span.text) <= terminal.width;
    if (!fits) {
      page.push_back(std::move(line));
      line.clear();
      width = 2;
    }
    line.push_back({fits ? "  " : indent});
    line.push_back(span);
    width += 2 + columns(span.text);
  }
  page.push_back(std::move(line));
}

void add_run(Page& page, const Model& model, const Verdict& verdict, const BlockWishes& wishes,
             const Terminal& terminal) {
  const Claim& claim = model.claims[verdict.claim];
  const solver::Trace trace = solver::replay(model.circuit, *verdict.run);
  const StoryWishes story{.about = claim.watch,
                          .names = mentioned(model, trace, claim),
                          .ending = break_words(model, claim, trace),
                          .all_signals = wishes.all_signals};
  page.push_back({});
  add_page(page, story_page(tell(model, trace, story), indent, terminal));
  if (trace.ticks() == 1) return;  // nothing to draw
  const DiagramWishes diagram{.signals = shown_signals(model, trace, claim, wishes.all_signals),
                              .mark = claim.possible ? "done here" : "broken here",
                              .mark_style = claim.possible ? Style::good : Style::bad,
                              .indent = indent};
  page.push_back({});
  add_page(page, timing_diagram(model, trace, diagram, terminal));
}

// ---- The summary ----

std::size_t count_of(const solver::Report& report, Outcome outcome) {
  return static_cast<std::size_t>(std::count_if(report.verdicts.begin(), report.verdicts.end(),
                                                [&](const Verdict& v) { return v.outcome == outcome; }));
}

/// The ticks up to which every claim that holds is known to hold.
Value least_proved(const solver::Report& report) {
  Value least = report.within;
  for (const Verdict& verdict : report.verdicts) {
    if (verdict.outcome == Outcome::holds_up_to) least = std::min(least, verdict.ticks);
  }
  return least;
}

}  // namespace

Span verdict_words(const Model& model, const Verdict& verdict) {
  const std::string length = run_length(model, verdict);
  switch (verdict.outcome) {
    case Outcome::proved:
      return {"proved, in every run of any length", Style::good};
    case Outcome::holds_up_to:
      return {fmt::format("proved up to {}", length), Style::good};
    case Outcome::shown:
      return {fmt::format("possible, shown by a run of {}", length), Style::good};
    case Outcome::refuted:
      return {refuted_words(verdict, length), Style::bad};
    case Outcome::undecided:
      break;
  }
  return {undecided_words(model, verdict), Style::unsure};
}

std::string remark_words(const Model& model, const Verdict& verdict) {
  if (verdict.vacuous) return vacuous_words(model, verdict);
  if (verdict.outcome == Outcome::undecided) return limit_words(verdict.limit);
  if (verdict.run && verdict.limit != Limit::none) return shorter_words(model, verdict);
  if (verdict.outcome == Outcome::refuted && !verdict.run) {
    return verdict.proof ? "Whatever the hands do, it never comes true."
                         : "Whatever the hands do, it does not come true in that time.";
  }
  return "";
}

std::string summary_words(const Model& model, const solver::Report& report) {
  std::vector<std::string> parts;
  const auto add = [&](std::size_t count, const std::string& words) {
    if (count > 0) parts.push_back(fmt::format("{} {}", count, words));
  };
  add(count_of(report, Outcome::proved), "proved in every run of any length");
  add(count_of(report, Outcome::holds_up_to),
      "proved up to " + ticks_words(least_proved(report), model.tick_us));
  add(count_of(report, Outcome::shown), "shown possible");
  add(count_of(report, Outcome::refuted), "refuted");
  add(count_of(report, Outcome::undecided), "undecided");
  const auto nothing = static_cast<std::size_t>(std::count_if(report.verdicts.begin(), report.verdicts.end(),
                                                              [](const Verdict& v) { return v.vacuous; }));
  const std::string empty = nothing == 0 ? "" : fmt::format(" ({} of the proved says nothing)", nothing);
  const std::string rest = parts.empty() ? "nothing to check" : fmt::format("{}", fmt::join(parts, ", "));
  return fmt::format("{}: {}{}", count_words(report.verdicts.size(), "claim"), rest, empty);
}

Page verdict_block(const Model& model, const dsl::Sources& sources, const Verdict& verdict,
                   const BlockWishes& wishes, const Terminal& terminal) {
  const Claim& claim = model.claims[verdict.claim];
  Page page;
  if (wishes.head) add_head(page, model, sources, verdict, terminal);
  if (!claim.doc.empty()) add_paragraph(page, indent, fmt::format("\"{}\"", claim.doc), terminal);
  add_paragraph(page, indent, claim.text, terminal);
  if (const std::string remark = remark_words(model, verdict); !remark.empty()) {
    add_paragraph(page, indent, remark, terminal, Style::unsure);
  }
  if (verdict.run && verdict.run->ticks() > 0) add_run(page, model, verdict, wishes, terminal);
  return page;
}

}  // namespace detent::cli
