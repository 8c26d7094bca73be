// A run: what the inputs did, tick by tick. Everything else about a run follows from it by the interpreter.
//
// People wait for seconds, and machines count milliseconds: most ticks of most runs are like the tick before.
// So both what the inputs did and what followed from it are kept by stretches, and a window of 80,000 ticks
// takes no more room than one of 80.
#pragma once

#include <cstddef>
#include <initializer_list>
#include <vector>

#include "dsl/circuit.hpp"

namespace detent::solver {

using dsl::NodeId;
using dsl::Value;

/// Rows of input values, one for each tick, kept by stretches of equal rows.
class Rows {
 public:
  /// Values, one for each input.
  using Row = std::vector<Value>;
  /// Ticks in a row in which nothing changes.
  struct Stretch {
    Row row;                                                           ///< in each of these ticks
    std::size_t end = 0;                                               ///< the tick after its last
    friend bool operator==(const Stretch&, const Stretch&) = default;  ///< same row, same end
  };

  /// No ticks.
  Rows() = default;
  /// One tick for each row.
  Rows(std::initializer_list<Row> rows);
  /// One tick for each row.
  Rows(const std::vector<Row>& rows);

  /// Number of ticks.
  [[nodiscard]] std::size_t size() const { return stretches_.empty() ? 0 : stretches_.back().end; }
  /// Whether there are no ticks.
  [[nodiscard]] bool empty() const { return stretches_.empty(); }
  /// `tick` < size(). Takes the time of a binary search over the stretches.
  [[nodiscard]] const Row& operator[](std::size_t tick) const { return find(tick)->row; }
  [[nodiscard]] const Row& front() const { return stretches_.front().row; }  ///< there must be one
  [[nodiscard]] const Row& back() const { return stretches_.back().row; }    ///< there must be one
  /// The end of the stretch that this tick belongs to.
  [[nodiscard]] std::size_t end_of(std::size_t tick) const { return find(tick)->end; }
  /// In order and without gaps; neighbours differ.
  [[nodiscard]] const std::vector<Stretch>& stretches() const { return stretches_; }

  /// Puts so many ticks at the end.
  void push_back(const Row& row, std::size_t ticks = 1);
  /// Repeats the last row until there are so many; only right where there is one.
  void extend_to(std::size_t ticks);
  /// Keeps the first `ticks` rows; as many or more must be there.
  void cut(std::size_t ticks);
  /// Gives one input this value in the ticks [begin, end), which must be there.
  void set(std::size_t begin, std::size_t end, std::size_t input, Value value);

  /// The same values in the same ticks.
  friend bool operator==(const Rows&, const Rows&) = default;

 private:
  [[nodiscard]] std::vector<Stretch>::const_iterator find(std::size_t tick) const;
  std::vector<Stretch> stretches_;
};

/// What the inputs do from power-up on.
struct Run {
  Rows inputs = {};  ///< inputs[t][i] is the value of Circuit::inputs()[i] at tick t
  /// Its length.
  [[nodiscard]] std::size_t ticks() const { return inputs.size(); }
};

/// Every node's value at every tick. Between two moments nothing changes but clocks, which count on.
class Trace {
 public:
  /// A tick in which something changes.
  struct Moment {
    std::size_t tick = 0;       ///< from 0 on
    std::vector<Value> values;  ///< by node
  };

  /// Moments in order, the first at tick 0, all before `ticks`.
  Trace(const dsl::Circuit& circuit, std::vector<Moment> moments, std::size_t ticks);

  /// Its length.
  [[nodiscard]] std::size_t ticks() const { return ticks_; }
  /// `tick` < ticks(). Takes the time of a binary search over the moments.
  [[nodiscard]] Value at(std::size_t tick, NodeId node) const;
  /// All ticks in which anything but clocks may have another value than one tick before, and perhaps more.
  [[nodiscard]] const std::vector<Moment>& moments() const { return moments_; }
  /// The tick since which a node that is no clock has had the value that it has at `tick`.
  [[nodiscard]] std::size_t since(std::size_t tick, NodeId node) const;

 private:
  struct Clock {
    NodeId event = dsl::no_node;  ///< none: the node is no clock
    Value cap = 0;
  };
  [[nodiscard]] std::size_t moment_of(std::size_t tick) const;

  std::vector<Moment> moments_;
  std::vector<Clock> clocks_;  ///< by node
  std::size_t ticks_ = 0;
};

}  // namespace detent::solver
