// Exact figures by asking for better ones until there is none. Private to the solver.
#pragma once

#include <functional>
#include <optional>

#include "dsl/circuit.hpp"
#include "solver/compare.hpp"
#include "solver/run.hpp"

namespace detent::solver {

/// The smallest measure of all runs that end with a condition true.
class Fewest {
 public:
  struct Measure {
    NodeId goal = dsl::no_node;
    std::function<NodeId(Value most)> at_most;  ///< goal, and the measure is at most this
    std::function<Value(const Trace&)> of;      ///< the measure of a run that ends with the goal
    /// True wherever at_most is, and perhaps elsewhere, but easier to prove out of reach; may be empty.
    std::function<NodeId(Value most)> loosely_at_most = {};
  };
  Fewest(FigureKind kind, Measure measure);

  /// The condition to ask for next; absent: the figure is done.
  [[nodiscard]] std::optional<NodeId> next();
  void take(const Verdict& verdict, const std::function<Trace(const Run&)>& replayed);
  [[nodiscard]] const Figure& figure() const { return figure_; }

 private:
  void improve(const Verdict& verdict, const std::function<Trace(const Run&)>& replayed);
  [[nodiscard]] bool is_loose() const { return static_cast<bool>(measure_.loosely_at_most); }
  Measure measure_;
  Figure figure_;
  bool done_ = false;
  bool from_below_ = false;  ///< the best could not be beaten nor proved best: proves what it can from 0 on
  Value asked_ = 0;
};

/// The longest stretch of ticks, in any run, through which `lock` has been on and after which there is no rest.
class Longest {
 public:
  struct Conditions {
    std::function<NodeId(Value ticks)> restless;  ///< lock on now and for so many ticks before, and no rest
    std::function<bool(const Run&)> for_ever;     ///< held as it ends, the run goes on like that for ever
    Value most = 0;                               ///< longer is not looked at
  };
  explicit Longest(Conditions conditions);

  [[nodiscard]] std::optional<NodeId> next();
  void take(const Verdict& verdict);
  [[nodiscard]] const Figure& figure() const { return figure_; }

 private:
  Conditions conditions_;
  Figure figure_;
  bool done_ = false;
  Value stride_ = 1;
  std::optional<Value> out_of_reach_ = {};  ///< no run is restless for so long
  Value asked_ = 0;
};

}  // namespace detent::solver
