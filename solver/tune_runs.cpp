// A window of 3 s that is left open is broken by: open it, wait for 3 s, act. At 4 s the same run breaks
// nothing, but with a second more of waiting it does. So stretches in which no hand moves are made longer or
// shorter by as much as the values differ. That is a guess and nothing else: the interpreter says whether it
// was a good one.
#include "solver/tune_runs.hpp"

#include <algorithm>
#include <numeric>

#include "solver/interpreter.hpp"

namespace detent::solver {
namespace {

constexpr std::size_t most_attempts = 128;
constexpr std::size_t most_played = 20'000;       ///< stretches, over all attempts with one run
constexpr Value longest_stretch = 1'000'000'000;  ///< ticks

/// The ticks of each stretch of equal inputs.
std::vector<std::size_t> lengths_of(const Run& run) {
  std::vector<std::size_t> lengths;
  std::size_t begin = 0;
  for (const Rows::Stretch& stretch : run.inputs.stretches()) {
    lengths.push_back(stretch.end - begin);
    begin = stretch.end;
  }
  return lengths;
}

/// Which stretches are changed: the longest, in order of time.
std::vector<std::size_t> longest(const std::vector<std::size_t>& lengths, std::size_t count) {
  std::vector<std::size_t> order(lengths.size());
  std::iota(order.begin(), order.end(), 0U);
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t one, std::size_t other) { return lengths[one] > lengths[other]; });
  order.resize(std::min(order.size(), count));
  return order;
}

/// Empty if a stretch would be gone.
Run stretched(const Run& run, const std::vector<std::size_t>& lengths, const std::vector<Value>& more) {
  Run changed;
  for (std::size_t index = 0; index < lengths.size(); ++index) {
    const Value length = static_cast<Value>(lengths[index]) + more[index];
    if (length < 1 || length > longest_stretch) return {};
    changed.inputs.push_back(run.inputs.stretches()[index].row, static_cast<std::size_t>(length));
  }
  return changed;
}

}  // namespace

Seen look_at(const dsl::Model& model, const Run& run) {
  Seen seen;
  if (!is_well_formed(model.circuit, run)) return seen;
  const Trace trace = replay(model.circuit, run);
  for (const Trace::Moment& moment : trace.moments()) {
    const std::size_t tick = moment.tick;
    const std::vector<Value>& values = moment.values;
    const bool kept = std::all_of(model.constraints.begin(), model.constraints.end(),
                                  [&](const dsl::Constraint& one) { return values[one.node] != 0; });
    if (!kept) return seen;
    for (std::uint32_t index = 0; index < model.claims.size(); ++index) {
      const dsl::Claim& claim = model.claims[index];
      if (values[claim.watch] == 0) continue;
      if (!claim.possible) {
        seen.broken = index;
        seen.ticks = tick + 1;
        return seen;
      }
      const bool known = std::find(seen.shown.begin(), seen.shown.end(), index) != seen.shown.end();
      if (!known && static_cast<Value>(tick) <= claim.within.value_or(static_cast<Value>(tick))) {
        seen.shown.push_back(index);
      }
    }
  }
  return seen;
}

bool try_stretched(const Run& run, const std::vector<Value>& amounts,
                   const std::function<bool(const Run&)>& attempt) {
  std::vector<Value> choices{0};
  for (const Value amount : amounts) {
    if (std::find(choices.begin(), choices.end(), amount) == choices.end()) choices.push_back(amount);
  }
  if (choices.size() < 2 || run.ticks() == 0) return false;
  const std::size_t attempts = std::min(most_attempts, most_played / run.inputs.stretches().size());
  std::size_t count = 0;
  std::size_t combinations = 1;
  for (; combinations * choices.size() <= attempts; ++count) combinations *= choices.size();
  const std::vector<std::size_t> lengths = lengths_of(run);
  const std::vector<std::size_t> changed = longest(lengths, count);
  for (std::size_t number = 1; number < combinations; ++number) {
    std::vector<Value> more(lengths.size(), 0);
    std::size_t rest = number;
    for (const std::size_t index : changed) {
      more[index] = choices[rest % choices.size()];
      rest /= choices.size();
    }
    if (rest > 0) break;  // fewer stretches than could be changed: all combinations are through
    const Run candidate = stretched(run, lengths, more);
    if (candidate.ticks() > 0 && attempt(candidate)) return true;
  }
  return false;
}

}  // namespace detent::solver
