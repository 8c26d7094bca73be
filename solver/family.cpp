// A tunable is put into the text as a number, and the text is lowered to a circuit. Two values mostly give
// the same circuit but for some numbers: the limits that clocks are compared with, thresholds, starting
// values. So the circuits of many values can be put to Z3 as one machine whose numbers are unknowns: base + a
// * row + b * column, where row and column are the unknown place of the value on the grid, the same at every
// step. A run that Z3 finds of it names its value; a proof of it is a proof for all values that it was asked
// about.
//
// That the circuits are alike is not assumed but seen: they are compared node by node (`Shape::form`), with
// every mention of a number set apart; and each number must lie on its plane at every value. Whatever does
// not fit is no member, and is decided by itself.
//
// The clocks of the family stop counting far above all their limits. Nothing but a comparison with a limit
// looks at a clock, so where it stops, beyond them, makes no difference.
//
// In the circuit of the family, a number that differs is written as one that no design can have, which
// solver/steps.cpp takes for the unknown that it stands for (Machine::unknown).
#include "solver/family.hpp"

#include <algorithm>
#include <optional>
#include <utility>

namespace detent::solver {

using dsl::Circuit;
using dsl::no_node;
using dsl::Node;
using dsl::NodeKind;

namespace {

/// The first number that stands for an unknown: far above all that the language lets anybody write.
constexpr Value first_unknown = 4'000'000'000'000'000;

/// How fast a number grows along rows or columns, from the first two members that lie so; 0 if there are
/// none.
std::optional<Value> slope(const std::vector<Member>& members, std::size_t number, bool along_row) {
  const Member& first = members.front();
  for (const Member& other : members) {
    const Value away = along_row ? other.column - first.column : other.row - first.row;
    if (away == 0 || (along_row ? other.row != first.row : other.column != first.column)) continue;
    const Value more = other.shape->numbers[number] - first.shape->numbers[number];
    return more % away == 0 ? std::optional(more / away) : std::nullopt;
  }
  return 0;
}

}  // namespace

Family::Family(const dsl::Model& model, std::uint32_t claim, const std::vector<Member>& members)
    : model_(model) {
  std::vector<Even> numbers;
  fit(members, numbers);
  const NodeId watched = model.claims[claim].watch;
  build(slice_for(model, {watched}), numbers);
  machine_.emplace(machine_of(slice_, model, {watched}));
  machine_->unknown = &unknown_;
  watch_ = slice_.node_of[watched];
  for (std::size_t index = 0; index < machine_->memories.size(); ++index) {
    Memory& memory = machine_->memories[index];
    if (memory.clock) continue;  // they stop far above
    for (const Member& one : members_) {
      const dsl::Range& range = one.shape->ranges[index];
      const bool first = &one == &members_.front();
      memory.range.low = first ? range.low : std::min(memory.range.low, range.low);
      memory.range.high = first ? range.high : std::max(memory.range.high, range.high);
    }
  }
  memory_of_.assign(model.circuit.nodes().size(), no_memory);
  std::map<NodeId, std::uint32_t> index_of;
  for (const Memory& memory : machine_->memories) {
    index_of.emplace(memory.node, static_cast<std::uint32_t>(index_of.size()));
  }
  for (NodeId whole = 0; whole < memory_of_.size(); ++whole) {
    const auto found = index_of.find(slice_.node_of[whole]);
    if (found != index_of.end()) memory_of_[whole] = found->second;
  }
}

void Family::fit(const std::vector<Member>& members, std::vector<Even>& numbers) {
  const Member& first = members.front();
  std::vector<Member> alike;
  for (const Member& one : members) {
    if (one.shape->form == first.shape->form) alike.push_back(one);
  }
  for (std::size_t number = 0; number < first.shape->numbers.size(); ++number) {
    const Value per_column = slope(alike, number, true).value_or(0);
    const Value per_row = slope(alike, number, false).value_or(0);
    numbers.push_back({first.shape->numbers[number] - per_row * first.row - per_column * first.column,
                       per_row, per_column});
  }
  for (const Member& one : alike) {
    bool fits = true;
    for (std::size_t number = 0; number < numbers.size() && fits; ++number) {
      fits = numbers[number].at(one.row, one.column) == one.shape->numbers[number];
    }
    if (fits) members_.push_back(one);
  }
}

/// Node by node as in the slice of the first, but for the numbers that differ.
void Family::build(const Slice& first, const std::vector<Even>& numbers) {
  std::map<std::pair<NodeId, std::size_t>, Value> written;
  std::size_t next = 0;
  each_number(first.circuit, [&](NodeId id, std::size_t slot) {
    const Even& number = numbers[next++];
    Value& here = written[{id, slot}];
    here = number_at(first.circuit, id, slot);
    if (number.per_row == 0 && number.per_column == 0) return;
    here = first_unknown + static_cast<Value>(unknown_.size());
    unknown_.emplace(here, number);
  });
  Circuit& circuit = slice_.circuit;
  std::vector<NodeId> copies(first.circuit.nodes().size(), no_node);
  std::vector<NodeId> loops;
  for (NodeId id = 0; id < copies.size(); ++id) {
    const Node& node = first.circuit.node(id);
    const auto operands = operands_of(first.circuit, node);
    const auto at = [&](std::size_t slot) {
      const auto number = written.find({id, slot});
      return number == written.end() ? copies[operands[slot]] : circuit.constant(number->second);
    };
    switch (node.kind) {
      case NodeKind::constant:
        if (node.condition) copies[id] = circuit.truth(node.number != 0);
        break;
      case NodeKind::input:
        copies[id] = circuit.input(first.circuit.inputs()[static_cast<std::size_t>(node.number)]);
        break;
      case NodeKind::not_:
        copies[id] = circuit.not_(at(0));
        break;
      case NodeKind::and_:
        copies[id] = circuit.and_(at(0), at(1));
        break;
      case NodeKind::or_:
        copies[id] = circuit.or_(at(0), at(1));
        break;
      case NodeKind::choose:
        copies[id] = circuit.choose(at(0), at(1), at(2));
        break;
      case NodeKind::equal:
        copies[id] = circuit.equal(at(0), at(1));
        break;
      case NodeKind::less_equal: {
        const auto limit = written.find({id, 1});
        const bool clock = first.circuit.node(node.a).kind == NodeKind::age && limit != written.end();
        copies[id] = clock ? circuit.age_at_most(at(0), limit->second) : circuit.less_equal(at(0), at(1));
        break;
      }
      case NodeKind::add:
        copies[id] = circuit.add(at(0), at(1));
        break;
      case NodeKind::times:
        copies[id] = circuit.times(node.number, at(0));
        break;
      case NodeKind::previous:
        copies[id] = circuit.open_previous(node.condition,
                                           has_number_of_its_own(node) ? written.at({id, 3}) : node.number);
        loops.push_back(id);
        break;
      case NodeKind::age:
        copies[id] = circuit.age(at(0), node.number != 0);
        break;
    }
  }
  for (const NodeId id : loops) {
    const auto number = written.find({id, 0});
    circuit.connect(copies[id], number == written.end() ? copies[first.circuit.node(id).a]
                                                        : circuit.constant(number->second));
  }
  slice_.inputs = first.inputs;
  slice_.node_of = first.node_of;
  for (NodeId& node : slice_.node_of) {
    if (node != no_node) node = copies[node];
  }
}

}  // namespace detent::solver
