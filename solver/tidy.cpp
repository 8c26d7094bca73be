// A solver's run flickers: inputs that do not matter at some tick have any value there. It is made calm by
// trying, on the interpreter alone, changes that leave the run as long as it is and its end as it is:
//
//   1. leave each input at rest; where that fails, hold it at its value of the tick before, over stretches as
//      long as possible: the whole run, and where that fails its halves (as in delta debugging: Zeller and
//      Hildebrandt, IEEE TSE 28(2), 2002);
//   2. give each stretch that is left the value of the stretch before or after it, which saves a movement;
//   3. begin at rest: a hand that stands elsewhere at power-up gets there by a movement, as late as possible.
//      An observer sees why it matters, and it costs no more than the odd position at power-up did;
//   4. give it a plain value: an end stop, the middle, a round number. In the last stretch the end stop that
//   is
//      farthest from rest comes first: what goes wrong is to be seen.
//
// The effort is bounded; the result is valid at any moment.
#include "solver/tidy.hpp"

#include <algorithm>
#include <utility>

#include "solver/calm_run.hpp"
#include "solver/rest.hpp"

namespace detent::solver {
namespace {

using dsl::CircuitInput;

constexpr int most_rounds = 4;

/// One input while it is made calm.
struct Hand {
  CalmRun& run;
  const CircuitInput& description;
  std::size_t input = 0;
  Value rest = 0;

  [[nodiscard]] Value at(std::size_t tick) const { return run.at(tick, input); }
  [[nodiscard]] std::vector<Stretch> stretches() const { return run.stretches_of(input); }
  [[nodiscard]] Stretch whole() const { return {0, run.ticks()}; }
  bool try_value(const Stretch& stretch, Value value) const { return run.try_value(input, stretch, value); }
  /// Movements; standing elsewhere than at rest at power-up counts as one.
  [[nodiscard]] std::size_t cost() const { return stretches().size() - 1 + (at(0) != rest ? 1 : 0); }
};

/// Holds the hand at its value before the ticks [first, last), or else does so in their halves. Between two
/// of these ticks nothing moves, so there is nothing to halve.
void hold(const Hand& hand, const std::size_t* first, const std::size_t* last) {
  if (last - first < 1 || hand.try_value({*first, *last}, hand.at(*first - 1))) return;
  if (last - first == 1) return;
  const std::size_t* middle = first + (last - first) / 2;
  hold(hand, first, middle);
  hold(hand, middle, last);
}

/// From the first movement on.
void hold(const Hand& hand) {
  std::vector<std::size_t> ticks = hand.run.changes();
  if (ticks.empty()) return;
  ticks.push_back(hand.run.ticks());
  hold(hand, ticks.data(), ticks.data() + ticks.size() - 1);
}

/// Saves movements by joining stretches with their neighbours.
void join_stretches(const Hand& hand) {
  const std::vector<Stretch> stretches = hand.stretches();
  for (std::size_t index = 0; index < stretches.size(); ++index) {
    const Stretch& stretch = stretches[index];
    if (index > 0 && hand.try_value(stretch, hand.at(stretch.begin - 1))) continue;
    const bool at_rest = index == 0 && hand.at(0) == hand.rest;
    if (index + 1 < stretches.size() && !at_rest) hand.try_value(stretch, hand.at(stretch.end));
  }
}

/// Lets the hand rest from power-up on, for as long as possible before it gets to where it stands.
void begin_at_rest(const Hand& hand) {
  const Stretch first = hand.stretches().front();
  if (hand.try_value(first, hand.rest)) return;
  std::size_t step = 1;
  while (step * 2 < first.end) step *= 2;
  std::size_t until = 0;
  for (; step > 0; step /= 2) {
    const bool fits = until + step < first.end;
    if (fits && hand.try_value({until, until + step}, hand.rest)) until += step;
  }
}

// ---- Plain values ----

/// The end stops, that farthest from rest first.
std::pair<Value, Value> end_stops(const Hand& hand) {
  const auto& [low, high] = hand.description.range;
  const bool low_is_farther = hand.rest - low > high - hand.rest;
  return low_is_farther ? std::pair{low, high} : std::pair{high, low};
}

/// Rounder and rounder neighbours of a value.
std::vector<Value> round_neighbours(const CircuitInput& input, Value present) {
  const Value width = input.range.high - input.range.low;
  std::vector<Value> values;
  Value unit = 1;
  while (unit <= width / 10) unit *= 10;
  for (; unit > 1; unit /= 10) {
    for (const Value part : {unit, unit / 2}) {
      const Value below = present - (present % part + part) % part;
      values.push_back(below);
      values.push_back(below + part);
    }
  }
  return values;
}

/// Values worth trying instead of the present one, the best first.
std::vector<Value> plain_values(const Hand& hand, Value present, bool last) {
  const Value low = hand.description.range.low;
  const Value high = hand.description.range.high;
  const auto [far, near] = end_stops(hand);
  const Value centre = low < 0 && high > 0 ? 0 : low + (high - low) / 2;
  std::vector<Value> values =
      last ? std::vector{far, near, hand.rest, centre} : std::vector{hand.rest, near, far, centre};
  for (const Value value : round_neighbours(hand.description, present)) values.push_back(value);
  const Value step = hand.description.step;
  const auto impossible = [&](Value value) {
    return value < low || value > high || (value - low) % step != 0;
  };
  values.erase(std::remove_if(values.begin(), values.end(), impossible), values.end());
  return values;
}

void make_plain(const Hand& hand, const Stretch& stretch, bool last) {
  const Value present = hand.at(stretch.begin);
  if (present == hand.rest) return;
  for (const Value value : plain_values(hand, present, last)) {
    if (value == present || hand.try_value(stretch, value)) return;
  }
}

/// Whether the hand may not as well rest in the last tick.
bool matters_at_the_end(const Hand& hand) {
  const Stretch last{hand.run.ticks() - 1, hand.run.ticks()};
  const Value present = hand.at(last.begin);
  if (!hand.try_value(last, hand.rest)) return true;
  hand.try_value(last, present);
  return false;
}

/// As far from the present value towards an end stop as the run stays valid.
void push_out(const Hand& hand, const Stretch& stretch, Value end_stop) {
  const Value step = hand.description.step;
  for (Value steps = (end_stop - hand.at(stretch.begin)) / step; steps != 0; steps /= 2) {
    const Value further = hand.at(stretch.begin) + steps * step;
    const bool fits = hand.description.range.low <= further && further <= hand.description.range.high;
    if (fits) hand.try_value(stretch, further);
  }
}

/// Where the value of the last stretch is a compromise between what the last tick and the ticks before it
/// need, a movement more lets both be plain; where there is no plain value, it is at least as large as it can
/// be.
void end_large(const Hand& hand) {
  const Stretch stretch = hand.stretches().back();
  const Value present = hand.at(stretch.begin);
  const auto [far, near] = end_stops(hand);
  if (present == far || present == near || present == hand.rest) return;
  const Stretch last{stretch.end - 1, stretch.end};
  const bool compromise = stretch.ticks() > 1 && matters_at_the_end(hand);
  if (compromise && (hand.try_value(last, far) || hand.try_value(last, near))) {
    make_plain(hand, {stretch.begin, last.begin}, false);
  } else {
    push_out(hand, stretch, present > hand.rest ? hand.description.range.high : hand.description.range.low);
  }
}

/// True if the hand has less to do now.
bool improve(const Hand& hand) {
  const std::size_t before = hand.cost();
  if (!hand.try_value(hand.whole(), hand.rest)) {
    join_stretches(hand);
    begin_at_rest(hand);
    for (const Stretch& stretch : hand.stretches())
      make_plain(hand, stretch, stretch.end == hand.run.ticks());
    end_large(hand);
  }
  return hand.cost() < before;
}

}  // namespace

Run tidied(const Setting& setting, NodeId watch, const Run& run) {
  if (run.ticks() == 0) return run;
  CalmRun calm(setting, watch, run);
  const std::vector<CircuitInput>& inputs = setting.circuit->inputs();
  const std::vector<Value> rests = rest_positions(*setting.circuit);
  std::vector<Hand> hands;
  for (std::size_t input = 0; input < inputs.size(); ++input)
    hands.push_back({calm, inputs[input], input, rests[input]});
  for (const Hand& hand : hands) {
    if (!hand.try_value(hand.whole(), hand.rest)) hold(hand);
  }
  for (int round = 0; round < most_rounds; ++round) {
    bool saved = false;
    for (const Hand& hand : hands) saved = improve(hand) || saved;
    // The first round may have made room for others where it saved nothing itself.
    if (!saved && round > 0) break;
  }
  return calm.run();
}

}  // namespace detent::solver
