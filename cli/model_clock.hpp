// The model on the log's time: tick k stands for the time from k ticks up to k + 1 ticks after the first row.
#pragma once

#include <optional>
#include <vector>

#include "cli/chronicle.hpp"
#include "cli/closeness.hpp"
#include "cli/run_judge.hpp"

namespace detent::cli {

class ModelClock {
 public:
  ModelClock(const dsl::Model& model, const std::vector<std::uint32_t>& claims);

  /// Plays on with these inputs so that the tick that `moment` lies in is played. Returns up to when, at most
  /// `to`, nothing changes if the inputs stay: later than `moment`.
  Nanoseconds reach(Nanoseconds moment, Nanoseconds to, const std::vector<Value>& inputs);

  [[nodiscard]] const std::vector<Value>& values() const { return player_.values(); }
  [[nodiscard]] Value ticks() const { return player_.tick() + 1; }
  [[nodiscard]] const std::optional<Unkept>& unkept() const { return unkept_; }
  [[nodiscard]] std::vector<ClaimOnRun>& claims() { return watch_.claims(); }
  /// From here on claims are not looked at: it is beyond the log.
  void stop_judging() { judging_ = false; }

 private:
  void judge();

  const dsl::Model& model_;
  Nanoseconds tick_;
  Player player_;
  Chronicle chronicle_;
  ClaimWatch watch_;
  std::vector<Value> before_;
  std::optional<Unkept> unkept_;
  bool whole_ = true, judging_ = true;
};

}  // namespace detent::cli
