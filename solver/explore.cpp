// Runs as a restless hand would make them: a movement, then a pause. Movements go mostly to values next to a
// threshold, pauses last mostly about as long as some clock in the design, because that is where things
// happen. The numbers are the same on every machine: a generator with a fixed seed, and no distribution of
// the library.
#include "solver/explore.hpp"

#include <algorithm>
#include <random>

#include "solver/cone.hpp"
#include "solver/interpreter.hpp"

namespace detent::solver {
namespace {

using dsl::Circuit;
using dsl::CircuitInput;

/// Nodes evaluated in all: a fraction of a second.
constexpr std::size_t effort = 15'000'000;
constexpr std::size_t most_runs = 200;
/// Movements tried where constraints forbid the first.
constexpr int most_attempts = 12;
/// The smallest part of a movement that is tried in one tick, where something may only move slowly.
constexpr Value slowest = 256;

class Dice {
 public:
  std::size_t below(std::size_t count) { return static_cast<std::size_t>(engine_() % count); }
  bool one_in(std::size_t count) { return below(count) == 0; }
  template <typename T>
  const T& one_of(const std::vector<T>& choices) {
    return choices[below(choices.size())];
  }

 private:
  std::mt19937_64 engine_{20240229};  // any number: NOLINT(bugprone-random-generator-seed)
};

/// The ends of an input's range, and the values on both sides of each threshold.
std::vector<Value> telling_values(const CircuitInput& input, const Need& need) {
  std::vector<Value> values{input.range.low, input.range.high};
  for (const Value limit : need.thresholds) {
    values.push_back(limit);
    values.push_back(limit + input.step);
  }
  return values;
}

std::vector<Value> telling_pauses(const Circuit& circuit, const Cone& cone, Value ticks) {
  std::vector<Value> pauses{1, 2, 3};
  for (NodeId id = 0; id < circuit.nodes().size(); ++id) {
    if (circuit.node(id).kind != dsl::NodeKind::age) continue;
    for (const Value limit : cone.needs[id].thresholds) {
      for (const Value pause : {limit - 1, limit, limit + 1, limit + 2}) {
        if (pause > 0 && pause < ticks) pauses.push_back(pause);
      }
    }
  }
  return pauses;
}

class Hand {
 public:
  Hand(const Circuit& circuit, const Cone& cone, Value ticks)
      : circuit_(&circuit), pauses_(telling_pauses(circuit, cone, ticks)) {
    for (const CircuitInput& input : circuit.inputs()) {
      values_.push_back(telling_values(input, cone.needs[input.node]));
    }
  }

  std::vector<Value> anywhere() {
    std::vector<Value> row;
    for (std::size_t input = 0; input < values_.size(); ++input) row.push_back(value_for(input));
    return row;
  }

  void move(std::vector<Value>& row) {
    if (row.empty()) return;
    do {
      const std::size_t input = dice_.below(row.size());
      row[input] = value_for(input);
    } while (dice_.one_in(3));
  }

  /// `to`, or where a movement from `from` to it is after the given part of its way, on the grid.
  std::vector<Value> part_of_the_way(const std::vector<Value>& from, const std::vector<Value>& to,
                                     Value parts) const {
    std::vector<Value> row = from;
    for (std::size_t input = 0; input < row.size(); ++input) {
      const Value step = circuit_->inputs()[input].step;
      row[input] += (to[input] - from[input]) / step / parts * step;
    }
    return row;
  }

  Value pause() { return dice_.one_of(pauses_); }

 private:
  Value value_for(std::size_t index) {
    const CircuitInput& input = circuit_->inputs()[index];
    if (!dice_.one_in(4)) return dice_.one_of(values_[index]);
    const Value steps = (input.range.high - input.range.low) / input.step + 1;
    return input.range.low + input.step * static_cast<Value>(dice_.below(static_cast<std::size_t>(steps)));
  }

  const Circuit* circuit_;
  std::vector<std::vector<Value>> values_;
  std::vector<Value> pauses_;
  Dice dice_;
};

class Explorer {
 public:
  Explorer(const Setting& setting, const std::vector<NodeId>& nodes, Value ticks)
      : setting_(&setting),
        nodes_(&nodes),
        ticks_(ticks),
        hand_(*setting.circuit, cone(setting, nodes), ticks) {
    sights_.runs.resize(nodes.size());
    sights_.changed.resize(setting.circuit->nodes().size(), false);
  }

  Sights explore(const Limits& limits) {
    for (std::size_t run = 0; run < most_runs && evaluated_ < effort; ++run) {
      if (limits.reached() != Limit::none) break;
      make_run();
    }
    return std::move(sights_);
  }

 private:
  static Cone cone(const Setting& setting, std::vector<NodeId> nodes) {
    nodes.insert(nodes.end(), setting.constraints.begin(), setting.constraints.end());
    return cone_of(*setting.circuit, nodes);
  }

  void make_run() {
    Interpreter machine(*setting_->circuit);
    Run run;
    std::vector<Value> wanted = hand_.anywhere();
    Value pause = hand_.pause();
    for (Value tick = 0; tick < ticks_ && evaluated_ < effort; ++tick) {
      if (--pause < 0) {
        hand_.move(wanted);
        pause = hand_.pause();
      }
      std::optional<std::vector<Value>> row =
          tick == 0 ? start(machine, wanted) : go_on(machine, run, wanted);
      if (!row) return;
      run.inputs.push_back(*row);
      look(machine.values(), run);
    }
  }

  std::optional<std::vector<Value>> start(Interpreter& machine, std::vector<Value>& wanted) {
    for (int attempt = 0; attempt < most_attempts; ++attempt) {
      if (try_step(machine, wanted)) return wanted;
      wanted = hand_.anywhere();
    }
    return {};
  }

  /// Goes to the row wanted, or as near to it as the constraints allow in one tick, or stays; failing that,
  /// anywhere.
  std::optional<std::vector<Value>> go_on(Interpreter& machine, const Run& run, std::vector<Value>& wanted) {
    const std::vector<Value>& present = run.inputs.back();
    for (Value parts = 1; parts <= slowest; parts *= 2) {
      const std::vector<Value> row = hand_.part_of_the_way(present, wanted, parts);
      if (try_step(machine, row)) return row;
      if (row == present) break;
    }
    if (try_step(machine, present)) return present;
    for (int attempt = 0; attempt < most_attempts; ++attempt) {
      wanted = present;
      hand_.move(wanted);
      if (try_step(machine, wanted)) return wanted;
    }
    return {};
  }

  /// Moves on by one tick if that keeps the constraints.
  bool try_step(Interpreter& machine, const std::vector<Value>& row) {
    Interpreter tried = machine;
    tried.step(row);
    evaluated_ += tried.values().size();
    if (!keeps_constraints(tried.values())) return false;
    machine = std::move(tried);
    return true;
  }

  [[nodiscard]] bool keeps_constraints(const std::vector<Value>& values) const {
    return std::all_of(setting_->constraints.begin(), setting_->constraints.end(),
                       [&values](NodeId node) { return values[node] != 0; });
  }

  void look(const std::vector<Value>& values, const Run& run) {
    sights_.longest_run = std::max(sights_.longest_run, static_cast<Value>(run.ticks()));
    if (sights_.first_values.empty()) sights_.first_values = values;
    for (std::size_t id = 0; id < values.size(); ++id) {
      if (values[id] != sights_.first_values[id]) sights_.changed[id] = true;
    }
    for (std::size_t index = 0; index < nodes_->size(); ++index) {
      std::optional<Run>& best = sights_.runs[index];
      if (values[(*nodes_)[index]] != 0 && (!best || run.ticks() < best->ticks())) best = run;
    }
  }

  const Setting* setting_;
  const std::vector<NodeId>* nodes_;
  Value ticks_;
  Hand hand_;
  Sights sights_;
  std::size_t evaluated_ = 0;
};

}  // namespace

Sights explore(const Setting& setting, const std::vector<NodeId>& nodes, Value ticks, const Limits& limits) {
  return Explorer(setting, nodes, ticks).explore(limits);
}

}  // namespace detent::solver
