#include "tests/support/breadth_first.hpp"

#include <algorithm>
#include <map>
#include <utility>

#include "solver/interpreter.hpp"
#include "tests/support/random_circuit.hpp"

namespace detent::test {
namespace {

using dsl::NodeId;
using dsl::Value;
using solver::Interpreter;

/// One machine for each state that runs of some number of ticks can be in.
using Level = std::map<std::vector<Value>, Interpreter>;

class Walk {
 public:
  Walk(const dsl::Circuit& circuit, const std::vector<NodeId>& nodes, const std::vector<NodeId>& constraints)
      : rows_(all_rows(circuit)), nodes_(nodes), constraints_(constraints) {
    result_.shortest.resize(nodes.size());
  }

  std::optional<BreadthFirst> run(const dsl::Circuit& circuit, std::size_t ticks, std::size_t most_states) {
    Level level{{{}, Interpreter(circuit)}};
    for (std::size_t tick = 1; tick <= ticks; ++tick) {
      Level next;
      for (const auto& [memory, machine] : level) {
        for (const std::vector<Value>& row : rows_) step(machine, row, tick, next);
      }
      if (next.size() > most_states) return {};
      if (next.empty()) {
        result_.no_run_of = tick;
        break;
      }
      level.swap(next);
    }
    return result_;
  }

 private:
  void step(const Interpreter& machine, const std::vector<Value>& row, std::size_t tick, Level& next) {
    Interpreter moved = machine;
    const std::vector<Value>& values = moved.step(row);
    const auto holds = [&values](NodeId node) { return values[node] != 0; };
    if (!std::all_of(constraints_.begin(), constraints_.end(), holds)) return;
    for (std::size_t index = 0; index < nodes_.size(); ++index) {
      if (!result_.shortest[index] && holds(nodes_[index])) result_.shortest[index] = tick;
    }
    std::vector<Value> memory = moved.memory();
    next.try_emplace(std::move(memory), std::move(moved));
  }

  std::vector<std::vector<Value>> rows_;
  const std::vector<NodeId>& nodes_;
  const std::vector<NodeId>& constraints_;
  BreadthFirst result_;
};

}  // namespace

std::optional<BreadthFirst> breadth_first(const dsl::Circuit& circuit, const std::vector<NodeId>& nodes,
                                          const std::vector<NodeId>& constraints, std::size_t ticks,
                                          std::size_t most_states) {
  return Walk(circuit, nodes, constraints).run(circuit, ticks, most_states);
}

}  // namespace detent::test
