// A solver's run flickers: inputs that do not matter at some tick have any value there. It is made calm by
// trying, on the interpreter alone, changes that leave the run as long as it is and its end as it is:
//
//   1. hold each input at its value of the tick before, over stretches as long as possible: the whole run,
//   and
//      where that fails its halves (as in delta debugging: Zeller and Hildebrandt, IEEE TSE 28(2), 2002);
//   2. give each stretch that is left the value of the stretch before or after it, which saves a movement;
//   3. give it a plain value: an end stop, the middle, a round number.
//
// Each trial is replayed from the tick that it changes, and given up at the first tick that breaks a
// constraint or brings the end too early; it is known to succeed as soon as the machine remembers what it
// remembered in the run before and the inputs go on alike. The effort is bounded; the result is valid at any
// moment.
#include "solver/tidy.hpp"

#include <algorithm>
#include <utility>

#include "solver/interpreter.hpp"

namespace detent::solver {
namespace {

using dsl::CircuitInput;

/// Nodes evaluated in all: under half a second.
constexpr std::size_t effort = 60'000'000;
constexpr int most_rounds = 4;

/// Ticks [begin, end) over which an input keeps its value.
struct Stretch {
  std::size_t begin = 0;
  std::size_t end = 0;
};

/// A run that is valid at all times, with the machine's state after every tick.
class CalmRun {
 public:
  CalmRun(const Setting& setting, NodeId watch, const Run& run)
      : setting_(&setting), watch_(watch), run_(run) {
    Interpreter machine(*setting.circuit);
    for (const std::vector<Value>& row : run.inputs) {
      machine.step(row);
      memories_.push_back(machine.memory());
      machines_.push_back(machine);
    }
  }

  [[nodiscard]] const Run& run() const { return run_; }
  [[nodiscard]] std::size_t ticks() const { return run_.ticks(); }
  [[nodiscard]] Value at(std::size_t tick, std::size_t input) const { return run_.inputs[tick][input]; }
  [[nodiscard]] bool is_tired() const { return evaluated_ >= effort; }

  /// Gives the input this value over the stretch if the run stays valid.
  bool try_value(std::size_t input, const Stretch& stretch, Value value) {
    if (is_tired()) return false;
    const Run before = run_;  // only the stretch differs
    for (std::size_t tick = stretch.begin; tick < stretch.end; ++tick) run_.inputs[tick][input] = value;
    if (replay_from(stretch)) return true;
    for (std::size_t tick = stretch.begin; tick < stretch.end; ++tick) {
      run_.inputs[tick][input] = before.inputs[tick][input];
    }
    return false;
  }

 private:
  bool replay_from(const Stretch& stretch) {
    Interpreter machine = stretch.begin == 0 ? Interpreter(*setting_->circuit) : machines_[stretch.begin - 1];
    std::vector<Interpreter> machines;
    std::vector<std::vector<Value>> memories;
    for (std::size_t tick = stretch.begin; tick < ticks(); ++tick) {
      machine.step(run_.inputs[tick]);
      evaluated_ += machine.values().size();
      if (!is_allowed(machine.values(), tick)) return false;
      machines.push_back(machine);
      memories.push_back(machine.memory());
      if (tick + 1 >= stretch.end && memories.back() == memories_[tick] && tick + 1 < ticks()) break;
    }
    std::move(machines.begin(), machines.end(),
              machines_.begin() + static_cast<std::ptrdiff_t>(stretch.begin));
    std::move(memories.begin(), memories.end(),
              memories_.begin() + static_cast<std::ptrdiff_t>(stretch.begin));
    return true;
  }

  [[nodiscard]] bool is_allowed(const std::vector<Value>& values, std::size_t tick) const {
    if ((values[watch_] != 0) != (tick + 1 == ticks())) return false;
    return std::all_of(setting_->constraints.begin(), setting_->constraints.end(),
                       [&values](NodeId node) { return values[node] != 0; });
  }

  const Setting* setting_;
  NodeId watch_;
  Run run_;
  std::vector<Interpreter> machines_;
  std::vector<std::vector<Value>> memories_;
  std::size_t evaluated_ = 0;
};

bool is_constant(const CalmRun& calm, std::size_t input, const Stretch& stretch, Value value) {
  for (std::size_t tick = stretch.begin; tick < stretch.end; ++tick) {
    if (calm.at(tick, input) != value) return false;
  }
  return true;
}

/// Holds the input at its value before the stretch, or else does so in its halves.
void hold(CalmRun& calm, std::size_t input, const Stretch& stretch) {
  const Value before = calm.at(stretch.begin - 1, input);
  if (is_constant(calm, input, stretch, before) || calm.try_value(input, stretch, before)) return;
  if (stretch.end - stretch.begin == 1) return;
  const std::size_t middle = stretch.begin + (stretch.end - stretch.begin) / 2;
  hold(calm, input, {stretch.begin, middle});
  hold(calm, input, {middle, stretch.end});
}

std::vector<Stretch> stretches_of(const CalmRun& calm, std::size_t input) {
  std::vector<Stretch> stretches;
  for (std::size_t tick = 0; tick < calm.ticks(); ++tick) {
    if (tick == 0 || calm.at(tick, input) != calm.at(tick - 1, input)) stretches.push_back({tick, tick});
    stretches.back().end = tick + 1;
  }
  return stretches;
}

/// Values worth trying, the plainest first: end stops, the middle (0 where it is in range), then rounder and
/// rounder neighbours of the present one.
std::vector<Value> plain_values(const CircuitInput& input, Value present) {
  const auto& [low, high] = input.range;
  const Value centre = low < 0 && high > 0 ? 0 : low + (high - low) / 2;
  std::vector<Value> values{low, high, centre};
  Value unit = 1;
  while (unit <= (high - low) / 10) unit *= 10;
  for (; unit > 1; unit /= 10) {
    for (const Value part : {unit, unit / 2}) {
      const Value below = present - (present % part + part) % part;
      values.push_back(below);
      values.push_back(below + part);
    }
  }
  const auto impossible = [&](Value value) {
    return value < low || value > high || (value - low) % input.step != 0;
  };
  values.erase(std::remove_if(values.begin(), values.end(), impossible), values.end());
  return values;
}

/// Saves movements by joining stretches with their neighbours. True if any was saved.
bool join_stretches(CalmRun& calm, std::size_t input) {
  const std::vector<Stretch> stretches = stretches_of(calm, input);
  bool saved = false;
  for (std::size_t index = 0; index < stretches.size(); ++index) {
    const Stretch& stretch = stretches[index];
    const bool joined =
        (index > 0 && calm.try_value(input, stretch, calm.at(stretch.begin - 1, input))) ||
        (index + 1 < stretches.size() && calm.try_value(input, stretch, calm.at(stretch.end, input)));
    saved = saved || joined;
  }
  return saved;
}

void make_plain(CalmRun& calm, const CircuitInput& description, std::size_t input) {
  for (const Stretch& stretch : stretches_of(calm, input)) {
    const Value present = calm.at(stretch.begin, input);
    for (const Value value : plain_values(description, present)) {
      if (value == present || calm.try_value(input, stretch, value)) break;
    }
  }
}

}  // namespace

Run tidied(const Setting& setting, NodeId watch, const Run& run) {
  if (run.ticks() == 0) return run;
  CalmRun calm(setting, watch, run);
  const std::vector<CircuitInput>& inputs = setting.circuit->inputs();
  for (std::size_t input = 0; input < inputs.size() && run.ticks() > 1; ++input)
    hold(calm, input, {1, run.ticks()});
  for (int round = 0; round < most_rounds; ++round) {
    bool saved = false;
    for (std::size_t input = 0; input < inputs.size(); ++input) saved = join_stretches(calm, input) || saved;
    for (std::size_t input = 0; input < inputs.size(); ++input) make_plain(calm, inputs[input], input);
    if (!saved) break;
  }
  return calm.run();
}

}  // namespace detent::solver
