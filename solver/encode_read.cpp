// Back from gates to a circuit's values: the run that an assignment describes, and whether the gates and the
// interpreter say the same of it.
#include <fmt/format.h>

#include <algorithm>

#include "solver/binary.hpp"
#include "solver/encode.hpp"

namespace detent::solver {

using dsl::CircuitInput;
using dsl::Node;
using dsl::NodeKind;

Value Encoding::input_value(NodeId id, const Tick& tick, const std::vector<bool>& values) const {
  const Need& need = cone_.needs[id];
  const Layout& layout = layout_[id];
  const CircuitInput& input = circuit_->inputs()[static_cast<std::size_t>(circuit_->node(id).number)];
  if (!need.any) return input.range.low;
  if (input.condition) return value_of(tick[layout.first], values) ? 1 : 0;
  if (layout.digits != 0) {
    Value counted = 0;
    for (std::size_t place = 0; place < layout.digits; ++place) {
      const bool bit = value_of(tick[layout.first + layout.thresholds + place], values);
      counted |= static_cast<Value>(bit ? 1 : 0) << place;
    }
    return input.range.low + counted;
  }
  for (std::size_t index = 0; index < layout.thresholds; ++index) {
    if (value_of(tick[layout.first + index], values)) return need.thresholds[index];
  }
  return input.range.high;
}

Run Encoding::run(const std::vector<bool>& values, std::size_t ticks) const {
  Run run;
  for (std::size_t tick = 0; tick < ticks; ++tick) {
    Rows::Row row;
    for (const CircuitInput& input : circuit_->inputs()) {
      row.push_back(input_value(input.node, ticks_[tick], values));
    }
    run.inputs.push_back(row);
  }
  return run;
}

bool Encoding::agrees(NodeId id, const Tick& tick, Value value, const std::vector<bool>& values,
                      const std::vector<bool>& known) const {
  const Layout& layout = layout_[id];
  const auto says = [&](std::size_t place, bool expected) {
    const Literal literal = tick[layout.first + place];
    return !known[literal.gate()] || value_of(literal, values) == expected;
  };
  if (circuit_->node(id).condition) return says(0, value != 0);
  for (std::size_t index = 0; index < layout.thresholds; ++index) {
    if (!says(index, value <= cone_.needs[id].thresholds[index])) return false;
  }
  const std::uint64_t counted = distance(circuit_->node(id).range.low, value);
  for (std::size_t place = 0; place < layout.digits; ++place) {
    if (!says(layout.thresholds + place, ((counted >> place) & 1U) != 0)) return false;
  }
  return true;
}

std::optional<std::string> Encoding::disagreement(const Trace& trace, const std::vector<bool>& values,
                                                  const std::vector<bool>& known) const {
  const std::size_t ticks = std::min(trace.ticks(), ticks_.size());
  for (std::size_t tick = 0; tick < ticks; ++tick) {
    for (const NodeId id : nodes_) {
      const Value value = trace.at(tick, id);
      if (agrees(id, ticks_[tick], value, values, known)) continue;
      return fmt::format("node {} at tick {}: the interpreter says {}, the encoding another value", id, tick,
                         value);
    }
  }
  return {};
}

}  // namespace detent::solver
