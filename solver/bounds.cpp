#include "solver/bounds.hpp"

#include "solver/cone.hpp"

namespace detent::solver {
namespace {

bool is_stage(const Memory& memory) {
  return !memory.condition && !memory.clock && memory.range.high - memory.range.low < 8;
}

std::vector<NodeId> all_conditions(const dsl::Circuit& circuit) {
  std::vector<NodeId> conditions;
  for (NodeId id = 0; id < circuit.nodes().size(); ++id) {
    if (circuit.node(id).condition) conditions.push_back(id);
  }
  return conditions;
}

}  // namespace

Bounds::Bounds(const Machine& machine) : machine_(machine), tops_(machine.memories.size()) {
  const Cone cone = cone_of(*machine.circuit, all_conditions(*machine.circuit));
  std::set<Value> limits{0};
  for (std::size_t index = 0; index < machine.memories.size(); ++index) {
    const Memory& memory = machine.memories[index];
    if (memory.condition) continue;
    if (memory.clock) {
      tops_[index].insert(memory.limits.begin(), memory.limits.end());
      limits.insert(memory.limits.begin(), memory.limits.end());
    } else {
      const auto& thresholds = cone.needs[memory.node].thresholds;
      tops_[index].insert(thresholds.begin(), thresholds.end());
    }
    tops_[index].insert(memory.range.high);
  }
  for (const Value one : limits) {
    for (const Value other : limits) {
      for (Value near = -2; near <= 2; ++near) differences_.insert(one - other + near);
    }
  }
}

std::vector<Cube> Bounds::descriptions(const std::vector<Value>& memory) const {
  return {describe(memory, false, false), describe(memory, false, true), exact(memory)};
}

Cube Bounds::exact(const std::vector<Value>& memory) const {
  return describe(memory, true, true);
}

Value Bounds::at_most(std::uint32_t memory, Value value) const {
  const auto found = tops_[memory].lower_bound(value);
  return found == tops_[memory].end() ? machine_.memories[memory].range.high : *found;
}

Value Bounds::at_least(std::uint32_t memory, Value value) const {
  const auto found = tops_[memory].lower_bound(value);
  return found == tops_[memory].begin() ? machine_.memories[memory].range.low : *std::prev(found) + 1;
}

Value Bounds::difference(Value value) const {
  const auto found = differences_.lower_bound(value);
  return found == differences_.end() ? value : *found;
}

// What lies at an end of the range needs no bound on that side.
void Bounds::add_number(Cube& cube, std::uint32_t index, Value low, Value high) const {
  const dsl::Range& range = machine_.memories[index].range;
  if (low > range.low) cube.push_back({.kind = Atom::Kind::at_least, .first = index, .limit = low});
  if (high < range.high) cube.push_back({.kind = Atom::Kind::at_most, .first = index, .limit = high});
}

Cube Bounds::describe(const std::vector<Value>& memory, bool exact_numbers, bool exact_differences) const {
  Cube cube;
  std::vector<std::uint32_t> counting;
  for (std::uint32_t index = 0; index < memory.size(); ++index) {
    const Memory& described = machine_.memories[index];
    const Value value = memory[index];
    if (described.condition || is_stage(described)) {
      cube.push_back({.kind = Atom::Kind::is, .first = index, .limit = value});
    } else if (exact_numbers) {
      add_number(cube, index, value, value);
    } else {
      add_number(cube, index, at_least(index, value), at_most(index, value));
    }
    if (described.clock && value < described.range.high) counting.push_back(index);
  }
  for (const std::uint32_t one : counting) {
    for (const std::uint32_t other : counting) {
      if (one == other) continue;
      const Value apart = memory[one] - memory[other];
      cube.push_back({.kind = Atom::Kind::difference,
                      .first = one,
                      .second = other,
                      .limit = exact_differences ? apart : difference(apart)});
    }
  }
  return cube;
}

std::optional<Atom> Bounds::widened(const Atom& bound) const {
  Atom wide = bound;
  switch (bound.kind) {
    case Atom::Kind::at_most:
      wide.limit = at_most(bound.first, bound.limit);
      break;
    case Atom::Kind::at_least:
      wide.limit = at_least(bound.first, bound.limit);
      break;
    case Atom::Kind::difference:
      wide.limit = difference(bound.limit);
      break;
    default:
      break;
  }
  return wide == bound ? std::nullopt : std::optional(wide);
}

}  // namespace detent::solver
