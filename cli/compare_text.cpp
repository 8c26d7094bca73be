// Where the designs part comes first: that is what one compares for.
#include "cli/compare_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/breakage.hpp"
#include "cli/compare_figures.hpp"
#include "cli/compare_run.hpp"
#include "cli/verdict_text.hpp"
#include "cli/words.hpp"
#include "solver/interpreter.hpp"

namespace detent::cli {
namespace {

using dsl::Parting;
using dsl::side_a;
using dsl::side_b;
using dsl::Signal;
using solver::Outcome;
using solver::PartingAnswer;
using solver::SignalAnswer;
using solver::Verdict;

constexpr const char* indent = "    ";

const char* letter(std::size_t side) {
  return side == side_a ? "A" : "B";
}

/// The name that both have, or both names.
std::string pair_name(const CompareResult& result, const dsl::SignalPair& pair) {
  const std::string& one = result.model(side_a).signals[pair.a].name;
  const std::string& other = result.model(side_b).signals[pair.b].name;
  return one == other ? one : fmt::format("{} (in B: {})", one, other);
}

const dsl::Compared& compared(const CompareResult& result, const SignalAnswer& answer) {
  return result.both->compared[answer.compared];
}

const Signal& signal_of_a(const CompareResult& result, const SignalAnswer& answer) {
  return result.model(side_a).signals[compared(result, answer).pair.a];
}

// ---- Head ----

void add_head(Page& page, const CompareResult& result, const Terminal& terminal) {
  for (const std::size_t side : {side_a, side_b}) {
    const std::string& title = result.model(side).title;
    page.push_back({{fmt::format("{}: ", letter(side))},
                    {result.compiled[side].sources.name(0), Style::strong},
                    {title.empty() ? "" : fmt::format(" \"{}\"", title)}});
  }
  add_paragraph(
      page, "",
      fmt::format("A tick is {} in both. Looked at: every run, of any length; up to {} for each question.",
                  dsl::time_text(1, result.both->model.tick_us), result.allowed),
      terminal, Style::faint);
}

std::string names_of(const CompareResult& result, const std::vector<dsl::SignalPair>& pairs) {
  std::vector<std::string> names;
  for (const dsl::SignalPair& pair : pairs) names.push_back(pair_name(result, pair));
  return names.empty() ? "none" : list_words(names);
}

void add_alone(Page& page, const CompareResult& result, std::size_t side, const Terminal& terminal) {
  std::vector<std::string> hands, others;
  for (const std::uint32_t index : result.both->match.alone[side]) {
    const Signal& signal = result.model(side).signals[index];
    (signal.role == dsl::SignalRole::hand ? hands : others)
        .push_back(signal.role == dsl::SignalRole::output ? "output " + signal.name : signal.name);
  }
  const std::string head = fmt::format("  only in {}: ", letter(side));
  if (!hands.empty())
    add_paragraph(page, head, list_words(hands) + " (moves freely)", terminal, Style::unsure);
  if (!others.empty()) add_paragraph(page, head, list_words(others), terminal, Style::unsure);
}

void add_match(Page& page, const CompareResult& result, const Terminal& terminal) {
  const dsl::Match& match = result.both->match;
  add_paragraph(page, "  moved together: ", names_of(result, match.hands), terminal);
  add_paragraph(page, "  compared: ", names_of(result, match.computed), terminal);
  for (const dsl::Match::Unlike& one : match.unlike) {
    add_paragraph(page,
                  "  not compared: ", fmt::format("{}, which {}", pair_name(result, one.pair), one.reason),
                  terminal, Style::unsure);
  }
  for (const std::size_t side : {side_a, side_b}) add_alone(page, result, side, terminal);
  const bool assumes = !result.both->model.constraints.empty();
  if (assumes) {
    add_paragraph(
        page, "  assumed: ",
        "what A and what B assumes, both at once; claims and figures of each by its own assumptions",
        terminal);
  }
}

// ---- Signals ----

std::string parting_words(const Signal& signal, Parting parting) {
  if (parting == Parting::differ) return "A and B differ";
  const bool a = parting == Parting::a_above;
  if (signal.sort.kind == dsl::SortKind::level) return a ? "A above B" : "B above A";
  return fmt::format("{} in {}, {} in {}", dsl::to_text(1, signal.sort), a ? "A" : "B",
                     dsl::to_text(0, signal.sort), a ? "B" : "A");
}

void add_parting(Page& page, const CompareResult& result, const SignalAnswer& answer, std::size_t way,
                 const CompareWishes& wishes, const Terminal& terminal) {
  const dsl::SideBySide& both = *result.both;
  const dsl::SignalPair& pair = compared(result, answer).pair;
  const PartingAnswer& one = answer.partings[way];
  const std::string words = parting_words(signal_of_a(result, answer), one.parting);
  const Verdict& verdict = one.verdict;
  if (verdict.outcome == Outcome::refuted) {
    add_paragraph(page, "  ", words + ": never, in no run of any length", terminal, Style::good);
    return;
  }
  if (verdict.outcome == Outcome::undecided) {
    add_paragraph(page, "  ",
                  fmt::format("{}: undecided; in no run of {}", words,
                              count_words(static_cast<std::size_t>(verdict.events), "event")),
                  terminal, Style::unsure);
    return;
  }
  const std::size_t ticks = verdict.run->ticks();
  add_paragraph(
      page, "  ",
      fmt::format("{}: in a run of {} (tick 0 to {})", words, count_words(ticks, "tick"), ticks - 1),
      terminal, Style::bad);
  if (wishes.brief) return;
  const solver::Trace trace = solver::replay(both.model.circuit, *verdict.run);
  SharedRun shared{
      .model = both.model, .run = *verdict.run, .about = compared(result, answer).ways[way].node};
  std::vector<std::string> states;
  for (const std::uint32_t index : {both.signal_of[side_a][pair.a], both.signal_of[side_b][pair.b]}) {
    shared.names.push_back(index);
    const Signal& signal = both.model.signals[index];
    states.push_back(state_words(signal, trace.at(trace.ticks() - 1, signal.node)));
  }
  shared.ending = fmt::format("Here they part: {}, {}.", states[0], states[1]);
  shared.mark = "they part here";
  shared.all_signals = wishes.all_signals;
  add_page(page, shared_run_page(shared, indent, terminal));
}

void add_signals(Page& page, const CompareResult& result, const CompareWishes& wishes,
                 const Terminal& terminal) {
  std::vector<const SignalAnswer*> answers;
  for (const SignalAnswer& answer : result.comparison->signals) answers.push_back(&answer);
  const auto is_output = [&](const SignalAnswer* one) {
    return signal_of_a(result, *one).role == dsl::SignalRole::output;
  };
  std::stable_partition(answers.begin(), answers.end(), is_output);
  std::vector<std::string> same;
  for (const SignalAnswer* answer : answers) {
    const std::string name = pair_name(result, compared(result, *answer).pair);
    if (answer->same()) {
      same.push_back(name);
      continue;
    }
    const bool parts = answer->any(Outcome::shown);
    page.push_back({});
    page.push_back({{parts ? "THEY PART" : "undecided", parts ? Style::bad : Style::unsure},
                    {"  "},
                    {(is_output(answer) ? "output " : "") + name, Style::strong}});
    for (std::size_t way = 0; way < answer->partings.size(); ++way) {
      add_parting(page, result, *answer, way, wishes, terminal);
    }
  }
  if (same.empty()) return;
  page.push_back({});
  add_paragraph(page, "Proved the same in every run of any length: ", list_words(same), terminal,
                Style::good);
}

// ---- Claims ----

/// Signals of the other design that stand beside those that the claim names.
void add_counterparts(const CompareResult& result, std::size_t side, std::vector<std::uint32_t>& names) {
  const dsl::SideBySide& both = *result.both;
  const std::vector<std::uint32_t> own = names;
  for (const dsl::Compared& one : both.compared) {
    const std::uint32_t here = both.signal_of[side][side == side_a ? one.pair.a : one.pair.b];
    const std::uint32_t there = both.signal_of[1 - side][side == side_a ? one.pair.b : one.pair.a];
    if (here != there && std::find(own.begin(), own.end(), here) != own.end()) names.push_back(there);
  }
}

void add_claim_run(Page& page, const CompareResult& result, std::size_t side, const Verdict& verdict,
                   const CompareWishes& wishes, const Terminal& terminal) {
  const dsl::Claim claim = dsl::claim_beside(*result.both, side, result.model(side).claims[verdict.claim]);
  const dsl::Model& model = result.both->model;
  const solver::Trace trace = solver::replay(model.circuit, *verdict.run);
  SharedRun shared{.model = model, .run = *verdict.run, .about = claim.watch, .names = claim.first.mentions};
  if (claim.second) {
    shared.names.insert(shared.names.end(), claim.second->mentions.begin(), claim.second->mentions.end());
  }
  add_counterparts(result, side, shared.names);
  shared.ending = break_words(model, claim, trace);
  shared.mark = claim.possible ? "done here" : "broken here";
  shared.mark_style = claim.possible ? Style::good : Style::bad;
  shared.all_signals = wishes.all_signals;
  page.push_back({});
  add_page(page, shared_run_page(shared, std::string(indent) + indent, terminal));
}

Span answer_words(const CompareResult& result, std::size_t row, std::size_t side) {
  const auto& verdict = result.comparison->claims[row][side];
  if (!verdict) return {"not asked: " + result.claims[row].why_not[side], Style::unsure};
  Span words = verdict_words(result.model(side), *verdict);
  if (verdict->vacuous) words.text += " (it says nothing: its condition never comes true)";
  return words;
}

void add_claim(Page& page, const CompareResult& result, std::size_t row, const CompareWishes& wishes,
               const Terminal& terminal) {
  const ComparedClaim& claim = result.claims[row];
  const auto& verdicts = result.comparison->claims[row];
  const std::string wording =
      claim.worded_by ? fmt::format(" (as {} words it)", letter(*claim.worded_by)) : "";
  page.push_back({{"  " + claim.name, Style::strong}, {wording}});
  const Span a = answer_words(result, row, side_a);
  const Span b = answer_words(result, row, side_b);
  if (a.text == b.text) {
    add_paragraph(page, std::string(indent) + "A and B: ", a.text, terminal, a.style);
  } else {
    add_paragraph(page, std::string(indent) + "A: ", a.text, terminal, a.style);
    add_paragraph(page, std::string(indent) + "B: ", b.text, terminal, b.style);
  }
  // Where both answer alike, detent check shows the run of each.
  if (wishes.brief || !verdicts[side_a] || !verdicts[side_b] ||
      same_answer(*verdicts[side_a], *verdicts[side_b]))
    return;
  for (const std::size_t side : {side_a, side_b}) {
    if (verdicts[side]->run) add_claim_run(page, result, side, *verdicts[side], wishes, terminal);
  }
}

void add_claims(Page& page, const CompareResult& result, const CompareWishes& wishes,
                const Terminal& terminal) {
  if (result.claims.empty()) return;
  page.push_back({});
  page.push_back({{"Claims", Style::strong}, {", asked of both"}});
  for (std::size_t row = 0; row < result.claims.size(); ++row) add_claim(page, result, row, wishes, terminal);
}

// ---- End ----

void add_end(Page& page, const CompareResult& result, const Terminal& terminal) {
  page.push_back({});
  const Status status = status_of(result);
  const std::string words = status == Status::refuted     ? "They differ."
                            : status == Status::undecided ? "No difference was found, but not all is decided."
                                                          : "The same in all that both have, for all time.";
  add_paragraph(page, "", words, terminal,
                status == Status::refuted     ? Style::bad
                : status == Status::undecided ? Style::unsure
                                              : Style::good);
  if (is_undecided(result)) {
    add_paragraph(page, "",
                  "What is undecided ran into a limit, or you stopped it: --timeout and --memory allow more.",
                  terminal, Style::unsure);
  }
  add_paragraph(page, "", "A proof is about the model, not the wiring: blade or propeller off on the bench.",
                terminal);
}

}  // namespace

Page compare_page(const CompareResult& result, const CompareWishes& wishes, const Terminal& terminal) {
  Page page;
  add_head(page, result, terminal);
  add_match(page, result, terminal);
  add_signals(page, result, wishes, terminal);
  add_claims(page, result, wishes, terminal);
  if (wishes.figures) {
    page.push_back({});
    add_page(page, figures_page(result, wishes, terminal));
  }
  if (wishes.statistics) {
    const solver::Statistics& statistics = result.comparison->statistics;
    page.push_back({});
    page.push_back({{fmt::format("{} to the solver, {} replayed, {:.2f} s",
                                 count_words(statistics.solver_calls, "question"),
                                 count_words(statistics.replayed_runs, "run"), statistics.seconds)}});
  }
  add_end(page, result, terminal);
  return page;
}

}  // namespace detent::cli
