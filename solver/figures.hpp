// Exact figures by asking for better ones until there is none. Private to the solver.
#pragma once

#include <functional>
#include <optional>

#include "dsl/model.hpp"
#include "solver/compare.hpp"
#include "solver/run.hpp"

namespace detent::solver {

/// The claim that some run makes the condition true.
[[nodiscard]] dsl::Claim possibly(NodeId condition);

/// The smallest measure of all runs that end with a condition true.
class Fewest {
 public:
  struct Measure {
    dsl::Claim goal;                                ///< that it is possible
    std::function<dsl::Claim(Value most)> at_most;  ///< and that with a measure of at most this
    std::function<Value(const Trace&)> of;          ///< the measure of a run that ends with the goal
    /// Possible wherever at_most is, and perhaps elsewhere, but easier to prove impossible; may be empty.
    std::function<dsl::Claim(Value most)> loosely_at_most = {};
  };
  Fewest(FigureKind kind, Measure measure);

  /// What to ask for next; absent: the figure is done.
  [[nodiscard]] std::optional<dsl::Claim> next();
  void take(const Verdict& verdict, const std::function<Trace(const Run&)>& replayed);
  /// It is known from elsewhere that the figure is not less.
  void not_below(Value floor);
  [[nodiscard]] const Figure& figure() const { return figure_; }
  [[nodiscard]] bool is_done() const { return done_; }

 private:
  void improve(const Verdict& verdict, const std::function<Trace(const Run&)>& replayed);
  [[nodiscard]] bool is_loose() const { return static_cast<bool>(measure_.loosely_at_most); }
  Measure measure_;
  Figure figure_;
  bool done_ = false;
  bool from_below_ = false;  ///< the best could not be beaten nor proved best: proves what it can from 0 on
  Value asked_ = 0;
};

/// The longest stretch of ticks, in any run, through which `lock` has been on and after which there is no
/// rest.
class Longest {
 public:
  struct Conditions {
    std::function<NodeId(Value ticks)> restless;  ///< lock on now and for so many ticks before, and no rest
    std::function<bool(const Run&)> for_ever;     ///< held as it ends, the run goes on like that for ever
    Value most = 0;                               ///< longer is not looked at
  };
  explicit Longest(Conditions conditions);

  [[nodiscard]] std::optional<dsl::Claim> next();
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
