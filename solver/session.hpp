// A session with Z3: one unrolling, its solver, and the judge of what it finds.
#pragma once

#include <optional>
#include <vector>

#include "solver/encode.hpp"
#include "solver/limits.hpp"
#include "solver/satisfiability.hpp"
#include "solver/search.hpp"

namespace detent::solver {

enum class Finding { absent, found, too_hard, stopped };

class Session {
 public:
  /// For questions about these conditions. All that is referred to must outlive the session.
  Session(const Setting& setting, const std::vector<NodeId>& conditions, const Limits& limits,
          Statistics& statistics);

  void add_tick();

  /// From now on: no run that counts makes the node true in the tick added last.
  void require_absent(NodeId node);

  /// Whether the node can be true in the tick added last. If found, run() does it.
  Finding ask(NodeId node, std::optional<unsigned> effort);

  /// Whether the constraints leave a run of so many ticks, at most those added.
  Answer ask_for_any_run(std::size_t ticks);

  [[nodiscard]] Limit limit_reached() const { return limits_->reached(encoding_.bytes()); }
  [[nodiscard]] const Run& run() const { return run_; }
  [[nodiscard]] Limit why_stopped() const { return why_stopped_; }

 private:
  [[nodiscard]] std::size_t last_tick() const { return encoding_.ticks() - 1; }
  [[nodiscard]] Literal constraint(std::size_t index, std::size_t tick) const;
  Answer ask_solver(Literal wish, std::optional<unsigned> effort);
  bool accept_run(NodeId node);
  [[nodiscard]] bool is_broken(const Trace& trace, std::size_t index) const;
  void demand(std::size_t index);

  const Setting* setting_;
  const Limits* limits_;
  Statistics* statistics_;
  Encoding encoding_;
  Satisfiability solver_;
  std::vector<bool> demanded_;  ///< which constraints Z3 has been told of
  Run run_;
  Limit why_stopped_ = Limit::none;
  Watchman watchman_;  // last: it must stop before the solver goes
};

}  // namespace detent::solver
