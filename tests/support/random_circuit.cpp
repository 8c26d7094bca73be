#include "tests/support/random_circuit.hpp"

#include <algorithm>

namespace detent::test {
namespace {

using dsl::Circuit;
using dsl::CircuitInput;
using dsl::NodeId;
using dsl::Value;

class Maker {
 public:
  explicit Maker(std::uint64_t seed) : chance_(seed) {}

  RandomCircuit make() {
    make_inputs();
    open_loops();
    const std::size_t steps = 6 + chance_.below(16);
    for (std::size_t step = 0; step < steps; ++step) add_node();
    close_loops();
    while (!circuit_.finish().empty()) {  // cannot happen: every number is clamped
    }
    RandomCircuit made{{}, varying_conditions(), constraints()};
    made.circuit = std::move(circuit_);
    return made;
  }

 private:
  void make_inputs() {
    const std::size_t buttons = 1 + chance_.below(2);
    for (std::size_t index = 0; index < buttons; ++index) {
      conditions_.push_back(circuit_.input({.name = "button", .condition = true}));
    }
    const Value step = chance_.between(1, 3);
    const Value low = chance_.between(-6, 2);
    const Value high = low + step * chance_.between(1, 4);
    numbers_.push_back(circuit_.input({.name = "stick", .range = {low, high}, .step = step}));
    numbers_.push_back(circuit_.constant(chance_.between(-4, 4)));
  }

  void open_loops() {
    for (std::size_t count = chance_.below(3); count > 0; --count) {
      const NodeId open = circuit_.open_previous(true, chance_.between(0, 1));
      open_conditions_.push_back(open);
      conditions_.push_back(open);
    }
    if (chance_.one_in(2)) {
      open_number_ = circuit_.open_previous(false, chance_.between(-3, 3));
      numbers_.push_back(open_number_);
    }
  }

  void close_loops() {
    for (const NodeId open : open_conditions_) circuit_.connect(open, condition());
    if (open_number_ != dsl::no_node) {
      circuit_.connect(open_number_, clamped(number(), chance_.between(-9, -3), chance_.between(3, 9)));
    }
  }

  NodeId clamped(NodeId a, Value low, Value high) {
    const NodeId lowest = circuit_.constant(low);
    const NodeId highest = circuit_.constant(high);
    const NodeId capped = circuit_.choose(circuit_.less_equal(a, highest), a, highest);
    return circuit_.choose(circuit_.less_equal(lowest, capped), capped, lowest);
  }

  NodeId condition() { return chance_.pick(conditions_); }
  NodeId number() { return chance_.pick(numbers_); }
  NodeId fixed() { return circuit_.constant(chance_.between(-6, 6)); }
  NodeId other_number() { return chance_.one_in(2) ? fixed() : number(); }

  void add_node() {
    if (chance_.one_in(3)) {
      numbers_.push_back(new_number());
    } else {
      conditions_.push_back(new_condition());
    }
  }

  NodeId new_condition() {
    switch (chance_.below(9)) {
      case 0:
        return circuit_.not_(condition());
      case 1:
        return circuit_.and_(condition(), condition());
      case 2:
        return circuit_.or_(condition(), condition());
      case 3:
        return circuit_.choose(condition(), condition(), condition());
      case 4:
        return circuit_.equal(condition(), condition());
      case 5:
        return circuit_.equal(number(), other_number());
      case 6:
        return chance_.one_in(2) ? circuit_.less_equal(number(), other_number())
                                 : circuit_.less_equal(other_number(), number());
      case 7:
        return circuit_.previous(condition(), chance_.between(0, 1));
      default:
        return circuit_.age_at_most(circuit_.age(condition(), chance_.one_in(2)), chance_.between(0, 4));
    }
  }

  NodeId new_number() {
    switch (chance_.below(5)) {
      case 0:
        return circuit_.choose(condition(), number(), other_number());
      case 1:
        return clamped(circuit_.add(number(), other_number()), -12, 12);
      case 2:
        return clamped(circuit_.times(chance_.between(-3, 3), number()), -15, 15);
      case 3:
        return circuit_.previous(number(), chance_.between(-3, 3));
      default: {
        const NodeId age = circuit_.age(condition(), chance_.one_in(2));
        static_cast<void>(circuit_.age_at_most(age, chance_.between(0, 3)));
        return age;
      }
    }
  }

  [[nodiscard]] std::vector<NodeId> varying_conditions() const {
    std::vector<NodeId> varying;
    for (const NodeId node : conditions_) {
      if (!circuit_.is_constant(node)) varying.push_back(node);
    }
    return varying;
  }

  std::vector<NodeId> constraints() {
    std::vector<NodeId> chosen;
    while (chance_.one_in(3)) chosen.push_back(condition());
    return chosen;
  }

  Chance chance_;
  Circuit circuit_;
  std::vector<NodeId> conditions_;
  std::vector<NodeId> numbers_;
  std::vector<NodeId> open_conditions_;
  NodeId open_number_ = dsl::no_node;
};

Value random_value(const CircuitInput& input, Chance& chance) {
  return input.range.low + input.step * chance.between(0, (input.range.high - input.range.low) / input.step);
}

}  // namespace

RandomCircuit random_circuit(std::uint64_t seed) {
  return Maker(seed).make();
}

solver::Run random_run(const Circuit& circuit, std::size_t ticks, Chance& chance) {
  solver::Run run;
  for (std::size_t tick = 0; tick < ticks; ++tick) {
    solver::Rows::Row row;
    for (const CircuitInput& input : circuit.inputs()) row.push_back(random_value(input, chance));
    run.inputs.push_back(row);
  }
  return run;
}

std::vector<std::vector<Value>> all_rows(const Circuit& circuit) {
  std::vector<std::vector<Value>> rows{{}};
  for (const CircuitInput& input : circuit.inputs()) {
    std::vector<std::vector<Value>> longer;
    for (const std::vector<Value>& row : rows) {
      for (Value value = input.range.low; value <= input.range.high; value += input.step) {
        longer.push_back(row);
        longer.back().push_back(value);
      }
    }
    rows.swap(longer);
  }
  return rows;
}

}  // namespace detent::test
