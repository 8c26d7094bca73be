// The plain reading of a circuit. One pass over the nodes is one tick, because operands stand before their
// users; what `previous` remembers may stand later, and is therefore read from the tick before.
#include "solver/interpreter.hpp"

#include <algorithm>
#include <utility>

#include "solver/quiet.hpp"

namespace detent::solver {

using dsl::Circuit;
using dsl::CircuitInput;
using dsl::Node;
using dsl::NodeKind;

namespace {

/// The moment just before tick 0, as an age sees it.
Value age_before_start(const Node& node) {
  return node.number == 1 ? 0 : node.cap;
}

bool can_take(const CircuitInput& input, Value value) {
  return input.range.low <= value && value <= input.range.high && (value - input.range.low) % input.step == 0;
}

}  // namespace

Interpreter::Interpreter(const Circuit& circuit)
    : circuit_(&circuit), values_(circuit.nodes().size()), last_(circuit.nodes().size()) {}

const std::vector<Value>& Interpreter::step(const std::vector<Value>& inputs) {
  std::swap(values_, last_);
  const std::vector<Node>& nodes = circuit_->nodes();
  for (std::size_t id = 0; id < nodes.size(); ++id) {
    const Node& node = nodes[id];
    Value& result = values_[id];
    switch (node.kind) {
      case NodeKind::constant:
        result = node.number;
        break;
      case NodeKind::input:
        result = inputs[static_cast<std::size_t>(node.number)];
        break;
      case NodeKind::not_:
        result = values_[node.a] == 0 ? 1 : 0;
        break;
      case NodeKind::and_:
        result = values_[node.a] & values_[node.b];
        break;
      case NodeKind::or_:
        result = values_[node.a] | values_[node.b];
        break;
      case NodeKind::choose:
        result = values_[node.a] != 0 ? values_[node.b] : values_[node.c];
        break;
      case NodeKind::equal:
        result = values_[node.a] == values_[node.b] ? 1 : 0;
        break;
      case NodeKind::less_equal:
        result = values_[node.a] <= values_[node.b] ? 1 : 0;
        break;
      case NodeKind::add:
        result = values_[node.a] + values_[node.b];
        break;
      case NodeKind::times:
        result = node.number * values_[node.a];
        break;
      case NodeKind::previous:
        result = started_ ? last_[node.a] : node.number;
        break;
      case NodeKind::age:
        result = values_[node.a] != 0
                     ? 0
                     : std::min((started_ ? last_[id] : age_before_start(node)) + 1, node.cap);
        break;
    }
  }
  started_ = true;
  return values_;
}

void Interpreter::skip(Value ticks) {
  const std::vector<Node>& nodes = circuit_->nodes();
  for (std::size_t id = 0; id < nodes.size(); ++id) {
    if (nodes[id].kind == NodeKind::age && values_[nodes[id].a] == 0) {
      values_[id] = std::min(values_[id] + ticks, nodes[id].cap);
    }
  }
}

std::vector<Value> Interpreter::memory() const {
  std::vector<Value> remembered;
  const std::vector<Node>& nodes = circuit_->nodes();
  for (std::size_t id = 0; id < nodes.size(); ++id) {
    const Node& node = nodes[id];
    if (node.kind == NodeKind::previous) {
      remembered.push_back(started_ ? values_[node.a] : node.number);
    } else if (node.kind == NodeKind::age) {
      remembered.push_back(started_ ? values_[id] : age_before_start(node));
    }
  }
  return remembered;
}

bool Interpreter::remembers_as(const Interpreter& other) const {
  const std::vector<Node>& nodes = circuit_->nodes();
  for (std::size_t id = 0; id < nodes.size(); ++id) {
    const NodeKind kind = nodes[id].kind;
    const std::size_t remembered = kind == NodeKind::previous ? nodes[id].a : id;
    const bool remembers = kind == NodeKind::previous || kind == NodeKind::age;
    if (remembers && values_[remembered] != other.values_[remembered]) return false;
  }
  return true;
}

namespace {

/// Calls `look` at each moment of the run with its tick and the machine, until it returns false.
template <typename Look>
void play(const Circuit& circuit, const Run& run, Look look) {
  const Quiet quiet(circuit);
  Interpreter machine(circuit);
  std::size_t tick = 0;
  for (const Rows::Stretch& stretch : run.inputs.stretches()) {
    while (tick < stretch.end) {
      machine.step(stretch.row);
      if (!look(tick, machine)) return;
      const Value ahead = quiet.ahead(machine.values(), static_cast<Value>(stretch.end - tick - 1));
      machine.skip(ahead);
      tick += 1 + static_cast<std::size_t>(ahead);
    }
  }
}

}  // namespace

Trace replay(const Circuit& circuit, const Run& run) {
  std::vector<Trace::Moment> moments;
  play(circuit, run, [&](std::size_t tick, const Interpreter& machine) {
    moments.push_back({tick, machine.values()});
    return true;
  });
  return {circuit, std::move(moments), run.ticks()};
}

bool can_be_kept(const Circuit& circuit, const Run& run, std::size_t most_values) {
  const std::size_t most_moments = most_values / std::max<std::size_t>(circuit.nodes().size(), 1);
  if (run.ticks() <= most_moments) return true;
  std::size_t moments = 0;
  play(circuit, run, [&](std::size_t, const Interpreter&) { return ++moments <= most_moments; });
  return moments <= most_moments;
}

bool is_well_formed(const Circuit& circuit, const Run& run) {
  const std::vector<CircuitInput>& inputs = circuit.inputs();
  const auto& stretches = run.inputs.stretches();
  return std::all_of(stretches.begin(), stretches.end(), [&](const Rows::Stretch& stretch) {
    return std::equal(stretch.row.begin(), stretch.row.end(), inputs.begin(), inputs.end(),
                      [](Value value, const CircuitInput& input) { return can_take(input, value); });
  });
}

}  // namespace detent::solver
