#include "cli/compare_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/breakage.hpp"
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
using solver::SignalAnswer;
using solver::Verdict;

/// The name that both have, or both names.
std::string pair_name(const CompareResult& result, const dsl::SignalPair& pair) {
  const std::string& one = result.model(side_a).signals[pair.a].name;
  const std::string& other = result.model(side_b).signals[pair.b].name;
  return one == other ? one : fmt::format("{} (in B: {})", one, other);
}

const dsl::Compared& compared_in(const CompareResult& result, const SignalAnswer& answer) {
  return result.both->compared[answer.compared];
}

const Signal& signal_of_a(const CompareResult& result, const SignalAnswer& answer) {
  return result.model(side_a).signals[compared_in(result, answer).pair.a];
}

std::string names_of(const CompareResult& result, const std::vector<dsl::SignalPair>& pairs) {
  std::vector<std::string> names;
  for (const dsl::SignalPair& pair : pairs) names.push_back(pair_name(result, pair));
  return names.empty() ? "none" : list_words(names);
}

void add_alone(const CompareResult& result, std::size_t side, std::vector<MatchLine>& lines) {
  std::vector<std::string> hands, others;
  for (const std::uint32_t index : result.both->match.alone[side]) {
    const Signal& signal = result.model(side).signals[index];
    (signal.role == dsl::SignalRole::hand ? hands : others)
        .push_back(signal.role == dsl::SignalRole::output ? "output " + signal.name : signal.name);
  }
  const std::string what = fmt::format("only in {}", side_letter(side));
  if (!hands.empty()) lines.push_back({what, {list_words(hands) + " (moves freely)", Style::unsure}});
  if (!others.empty()) lines.push_back({what, {list_words(others), Style::unsure}});
}

std::string way_words(const Signal& signal, Parting parting) {
  if (parting == Parting::differ) return "A and B differ";
  const bool a = parting == Parting::a_above;
  if (signal.sort.kind == dsl::SortKind::level) return a ? "A above B" : "B above A";
  return fmt::format("{} in {}, {} in {}", dsl::to_text(1, signal.sort), a ? "A" : "B",
                     dsl::to_text(0, signal.sort), a ? "B" : "A");
}

bool is_output(const CompareResult& result, const SignalAnswer& answer) {
  return signal_of_a(result, answer).role == dsl::SignalRole::output;
}

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

/// Two designs that have nothing in common, and claim nothing, are the same only in that.
bool has_nothing(const CompareResult& result) {
  const auto& figures = result.comparison->figures;
  const auto left_out = [](const solver::Figure& one) {
    return one.state == solver::Figure::State::left_out;
  };
  return result.comparison->signals.empty() && result.claims.empty() &&
         std::all_of(figures[side_a].begin(), figures[side_a].end(), left_out) &&
         std::all_of(figures[side_b].begin(), figures[side_b].end(), left_out);
}

}  // namespace

const char* side_letter(std::size_t side) {
  return side == side_a ? "A" : "B";
}

std::string compare_reach_words(const CompareResult& result) {
  return fmt::format("A tick is {} in both. Looked at: every run, of any length; up to {} for each question.",
                     dsl::time_text(1, result.both->model.tick_us), result.allowed);
}

std::vector<MatchLine> match_lines(const CompareResult& result) {
  const dsl::Match& match = result.both->match;
  std::vector<MatchLine> lines{{"moved together", {names_of(result, match.hands)}},
                               {"compared", {names_of(result, match.computed)}}};
  for (const dsl::Match::Unlike& one : match.unlike) {
    lines.push_back({"not compared",
                     {fmt::format("{}, which {}", pair_name(result, one.pair), one.reason), Style::unsure}});
  }
  for (const std::size_t side : {side_a, side_b}) add_alone(result, side, lines);
  if (!result.both->model.constraints.empty()) {
    lines.push_back(
        {"assumed",
         {"what A and what B assumes, both at once; claims and figures of each by its own assumptions"}});
  }
  return lines;
}

std::vector<const SignalAnswer*> not_the_same(const CompareResult& result) {
  std::vector<const SignalAnswer*> answers;
  for (const SignalAnswer& answer : result.comparison->signals) {
    if (!answer.same()) answers.push_back(&answer);
  }
  std::stable_partition(answers.begin(), answers.end(),
                        [&](const SignalAnswer* one) { return is_output(result, *one); });
  return answers;
}

std::string compared_name(const CompareResult& result, const SignalAnswer& answer) {
  return (is_output(result, answer) ? "output " : "") + pair_name(result, compared_in(result, answer).pair);
}

std::vector<std::string> names_of_the_same(const CompareResult& result) {
  std::vector<std::string> outputs, others;
  for (const SignalAnswer& answer : result.comparison->signals) {
    if (!answer.same()) continue;
    (is_output(result, answer) ? outputs : others)
        .push_back(pair_name(result, compared_in(result, answer).pair));
  }
  outputs.insert(outputs.end(), others.begin(), others.end());
  return outputs;
}

Span parting_words(const CompareResult& result, const SignalAnswer& answer, std::size_t way) {
  const solver::PartingAnswer& one = answer.partings[way];
  const std::string words = way_words(signal_of_a(result, answer), one.parting);
  const Verdict& verdict = one.verdict;
  if (verdict.outcome == Outcome::refuted) {
    return {words + ": never, in no run of any length", Style::good};
  }
  if (verdict.outcome == Outcome::undecided && verdict.events == 0) {
    return {words + ": undecided; nothing is known yet", Style::unsure};
  }
  if (verdict.outcome == Outcome::undecided) {
    return {fmt::format("{}: undecided; in no run of {}", words,
                        count_words(static_cast<std::size_t>(verdict.events), "event")),
            Style::unsure};
  }
  const std::size_t ticks = verdict.run->ticks();
  const std::string last = ticks == 1 ? "" : fmt::format(" to {}", ticks - 1);
  return {fmt::format("{}: in a run of {} (tick 0{})", words, count_words(ticks, "tick"), last), Style::bad};
}

std::optional<SharedRun> parting_run(const CompareResult& result, const SignalAnswer& answer,
                                     std::size_t way) {
  const dsl::SideBySide& both = *result.both;
  const Verdict& verdict = answer.partings[way].verdict;
  if (verdict.outcome == Outcome::refuted || verdict.outcome == Outcome::undecided) return std::nullopt;
  const dsl::SignalPair& pair = compared_in(result, answer).pair;
  const solver::Trace trace = solver::replay(both.model.circuit, *verdict.run);
  SharedRun shared{
      .model = both.model, .run = *verdict.run, .about = compared_in(result, answer).ways[way].node};
  std::vector<std::string> states;
  for (const std::uint32_t index : {both.signal_of[side_a][pair.a], both.signal_of[side_b][pair.b]}) {
    shared.names.push_back(index);
    const Signal& signal = both.model.signals[index];
    states.push_back(state_words(signal, trace.at(trace.ticks() - 1, signal.node)));
  }
  shared.ending = fmt::format("Here they part: {}, {}.", states[0], states[1]);
  shared.mark = "they part here";
  return shared;
}

Span claim_answer_words(const CompareResult& result, std::size_t row, std::size_t side) {
  const auto& verdict = result.comparison->claims[row][side];
  if (!verdict) return {"not asked: " + result.claims[row].why_not[side], Style::unsure};
  Span words = verdict_words(result.model(side), *verdict);
  if (verdict->vacuous) words.text += " (it says nothing: its condition never comes true)";
  return words;
}

bool answers_differ(const CompareResult& result, std::size_t row) {
  const auto& verdicts = result.comparison->claims[row];
  return verdicts[side_a] && verdicts[side_b] && !same_answer(*verdicts[side_a], *verdicts[side_b]);
}

std::optional<SharedRun> claim_run(const CompareResult& result, std::size_t row, std::size_t side) {
  const auto& verdict = result.comparison->claims[row][side];
  if (!verdict || !verdict->run) return std::nullopt;
  const dsl::Claim claim = dsl::claim_beside(*result.both, side, result.model(side).claims[verdict->claim]);
  const dsl::Model& model = result.both->model;
  const solver::Trace trace = solver::replay(model.circuit, *verdict->run);
  SharedRun shared{.model = model, .run = *verdict->run, .about = claim.watch, .names = claim.first.mentions};
  if (claim.second) {
    shared.names.insert(shared.names.end(), claim.second->mentions.begin(), claim.second->mentions.end());
  }
  add_counterparts(result, side, shared.names);
  shared.ending = break_words(model, claim, trace);
  shared.mark = claim.possible ? "done here" : "broken here";
  shared.mark_style = claim.possible ? Style::good : Style::bad;
  return shared;
}

std::vector<Span> compare_summary_words(const CompareResult& result) {
  std::vector<Span> said;
  switch (status_of(result)) {
    case Status::refuted:
      said.push_back({"They differ.", Style::bad});
      break;
    case Status::undecided:
      said.push_back({"No difference was found, but not all is decided.", Style::unsure});
      break;
    default:
      said.push_back({has_nothing(result)
                          ? "There was nothing to compare: no output and no element that both "
                            "have, no claim, no figure."
                          : "The same in all that both have, for all time.",
                      Style::good});
  }
  if (is_undecided(result)) {
    said.push_back(
        {"What is undecided ran into a limit, or you stopped it: --timeout, --total-timeout and --memory "
         "allow more.",
         Style::unsure});
  }
  return said;
}

}  // namespace detent::cli
