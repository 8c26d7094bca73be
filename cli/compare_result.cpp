// When two designs are the same: what a script decides by.
#include "cli/compare_result.hpp"

#include <algorithm>

namespace detent::cli {

using solver::Figure;
using solver::Outcome;
using solver::SignalAnswer;
using solver::Verdict;

namespace {

bool is_open(const Figure& figure) {
  return figure.state == Figure::State::undecided;
}

bool any_output_alone(const CompareResult& result) {
  const dsl::Match& match = result.both->match;
  const auto is_output = [&](std::size_t side, std::uint32_t signal) {
    return result.model(side).signals[signal].role == dsl::SignalRole::output;
  };
  for (const std::size_t side : {dsl::side_a, dsl::side_b}) {
    for (const std::uint32_t signal : match.alone[side]) {
      if (is_output(side, signal)) return true;
    }
  }
  return std::any_of(match.unlike.begin(), match.unlike.end(), [&](const dsl::Match::Unlike& one) {
    return is_output(dsl::side_a, one.pair.a) || is_output(dsl::side_b, one.pair.b);
  });
}

bool any_claim_differs(const solver::Comparison& comparison) {
  return std::any_of(comparison.claims.begin(), comparison.claims.end(), [](const auto& row) {
    const bool decided =
        row[0] && row[1] && row[0]->outcome != Outcome::undecided && row[1]->outcome != Outcome::undecided;
    return decided && !same_answer(*row[0], *row[1]);
  });
}

bool any_figure_differs(const solver::Comparison& comparison) {
  const auto& [a, b] = comparison.figures;
  for (std::size_t index = 0; index < a.size(); ++index) {
    const auto known = [](const Figure& figure) {
      return !is_open(figure) && figure.state != Figure::State::left_out;
    };
    if (known(a[index]) && known(b[index]) && !same_figure(a[index], b[index])) return true;
  }
  return false;
}

}  // namespace

bool same_answer(const Verdict& one, const Verdict& other) {
  return one.outcome == other.outcome;
}

bool same_figure(const Figure& one, const Figure& other) {
  return one.state == other.state && (one.state != Figure::State::exact || one.value == other.value);
}

bool is_different(const CompareResult& result) {
  const solver::Comparison& comparison = *result.comparison;
  const bool parted = std::any_of(comparison.signals.begin(), comparison.signals.end(),
                                  [](const SignalAnswer& one) { return one.any(Outcome::shown); });
  return parted || any_output_alone(result) || any_claim_differs(comparison) ||
         any_figure_differs(comparison);
}

bool is_undecided(const CompareResult& result) {
  const solver::Comparison& comparison = *result.comparison;
  const bool signal = std::any_of(comparison.signals.begin(), comparison.signals.end(),
                                  [](const SignalAnswer& one) { return one.any(Outcome::undecided); });
  const bool claim = std::any_of(comparison.claims.begin(), comparison.claims.end(), [](const auto& row) {
    return std::any_of(row.begin(), row.end(),
                       [](const auto& one) { return one && one->outcome == Outcome::undecided; });
  });
  const bool figure =
      std::any_of(comparison.figures.begin(), comparison.figures.end(),
                  [](const auto& of_one) { return std::any_of(of_one.begin(), of_one.end(), is_open); });
  return signal || claim || figure;
}

Status status_of(const CompareResult& result) {
  if (!result.comparison || result.comparison->contradiction) return Status::input_wrong;
  if (is_different(result)) return Status::refuted;
  return is_undecided(result) ? Status::undecided : Status::all_hold;
}

}  // namespace detent::cli
