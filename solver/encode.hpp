// The encoding: a circuit unrolled tick by tick into gates, over the free inputs of every tick.
// It is the second reading of a circuit; the interpreter is the first, and each run is read by both.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "dsl/circuit.hpp"
#include "solver/cone.hpp"
#include "solver/gates.hpp"
#include "solver/run.hpp"
#include "solver/sliding_or.hpp"

namespace detent::solver {

class Encoding {
 public:
  /// Only what these conditions depend on is encoded. The circuit must outlive the encoding.
  Encoding(const dsl::Circuit& circuit, const std::vector<NodeId>& conditions);

  void add_tick();
  [[nodiscard]] std::size_t ticks() const { return ticks_.size(); }
  /// Roughly the memory in use.
  [[nodiscard]] std::size_t bytes() const { return gates_.bytes() + ticks_.size() * row_ * sizeof(Literal); }
  [[nodiscard]] const Gates& gates() const { return gates_; }
  Gates& gates() { return gates_; }

  /// One of the conditions asked for in the constructor (or anything below it), at a tick added before.
  [[nodiscard]] Literal condition(NodeId node, std::size_t tick) const;

  /// Conditions that always hold of inputs (a value has one place on its grid). They are bound to the
  /// variables that they speak of, so that a question brings along those that it needs.
  [[nodiscard]] const std::vector<Literal>& facts() const { return facts_; }

  /// The inputs of the first `ticks` ticks under values of all gates. Inputs that nothing depends on get
  /// their lowest value.
  [[nodiscard]] Run run(const std::vector<bool>& values, std::size_t ticks) const;

  /// The first place where these gate values and the interpreter's values differ, in words; none: they agree.
  /// Gates not in `known` are left out.
  [[nodiscard]] std::optional<std::string> disagreement(const Trace& trace, const std::vector<bool>& values,
                                                        const std::vector<bool>& known) const;

 private:
  /// What is known of each node at one tick, in one row: per node its condition, or its thresholds and then
  /// its binary digits (value - range.low).
  using Tick = std::vector<Literal>;
  struct Layout {
    std::size_t first = 0;
    std::size_t thresholds = 0;
    std::size_t digits = 0;
  };

  void lay_out();
  void encode_node(NodeId id);
  Literal encode_condition(NodeId id);
  Literal compare(const dsl::Node& node);
  Literal compare_thresholds(const dsl::Node& node);
  Literal compare_digits(const dsl::Node& node);
  Literal encode_threshold(NodeId id, std::size_t index);
  Literal threshold_of_parts(const dsl::Node& node, Value limit);
  Literal sum_at_most(const dsl::Node& node, Value limit);
  void order_thresholds(const Layout& layout);
  void add_fact(Literal fact, const std::vector<Literal>& variables);

  // solver/encode_digits.cpp
  [[nodiscard]] std::vector<Literal> encode_digits(NodeId id);
  std::vector<Literal> input_digits(const dsl::Node& node);
  std::vector<Literal> counted_age(NodeId id);
  /// The operand's digits, counted from the lowest value of its user and as wide as its user.
  std::vector<Literal> counted_for(const dsl::Node& user, const Tick& tick, NodeId operand);

  [[nodiscard]] Tick& now() { return ticks_.back(); }
  [[nodiscard]] bool is_first_tick() const { return ticks_.size() == 1; }
  [[nodiscard]] const Tick& before() const { return ticks_[ticks_.size() - 2]; }
  [[nodiscard]] Literal condition_in(const Tick& tick, NodeId id) const { return tick[layout_[id].first]; }
  /// value <= limit, of a number whose cone asks for this threshold (or it is always so, or never).
  [[nodiscard]] Literal at_most_in(const Tick& tick, NodeId id, Value limit) const;
  [[nodiscard]] std::vector<Literal> digits_in(const Tick& tick, NodeId id) const;

  // solver/encode_read.cpp
  [[nodiscard]] Value input_value(NodeId id, const Tick& tick, const std::vector<bool>& values) const;
  [[nodiscard]] bool agrees(NodeId id, const Tick& tick, Value value, const std::vector<bool>& values,
                            const std::vector<bool>& known) const;

  const dsl::Circuit* circuit_;
  Cone cone_;
  std::vector<NodeId> nodes_;   ///< those in the cone, in evaluation order
  std::vector<Layout> layout_;  ///< of every node
  std::size_t row_ = 0;         ///< length of a tick's row
  Gates gates_;
  std::vector<Tick> ticks_;
  std::vector<std::vector<SlidingOr>> windows_;  ///< of every node; an age has one for each threshold
  std::vector<Literal> facts_;
};

}  // namespace detent::solver
