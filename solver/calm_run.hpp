// A run that stays valid while single stretches of it are changed, with the machine's state at every moment,
// so that a change is replayed from where it begins to where it makes no difference any more, quiet time
// skipped.
#pragma once

#include <cstddef>
#include <vector>

#include "solver/interpreter.hpp"
#include "solver/quiet.hpp"
#include "solver/run.hpp"
#include "solver/search.hpp"

namespace detent::solver {

/// Ticks [begin, end).
struct Stretch {
  std::size_t begin = 0;
  std::size_t end = 0;
  [[nodiscard]] std::size_t ticks() const { return end - begin; }
};

class CalmRun {
 public:
  /// The run must keep the constraints and make `watch` true in its last tick and not before.
  CalmRun(const Setting& setting, NodeId watch, const Run& run);

  [[nodiscard]] const Run& run() const { return run_; }
  [[nodiscard]] std::size_t ticks() const { return run_.ticks(); }
  [[nodiscard]] Value at(std::size_t tick, std::size_t input) const { return run_.inputs[tick][input]; }

  /// Stretches of one value, in order.
  [[nodiscard]] std::vector<Stretch> stretches_of(std::size_t input) const;
  /// The ticks in which any input has another value than one tick before, in order.
  [[nodiscard]] std::vector<std::size_t> changes() const;

  /// Gives the input this value over the stretch if the run stays valid; also true if it has it already.
  bool try_value(std::size_t input, const Stretch& stretch, Value value);

 private:
  /// The machine after a tick; from there to the next moment time is quiet.
  struct Moment {
    std::size_t tick = 0;
    Interpreter machine;
  };
  using Moments = std::vector<Moment>;

  [[nodiscard]] bool is_constant(std::size_t input, const Stretch& stretch, Value value) const;
  bool replay(const Run& changed, const Stretch& stretch);
  [[nodiscard]] Interpreter machine_before(std::size_t tick) const;
  [[nodiscard]] Moments::const_iterator moment_of(std::size_t tick) const;
  [[nodiscard]] bool remembers_as_before(const Interpreter& machine, std::size_t tick) const;
  void keep(Moments moments, std::size_t begin, std::size_t end);
  [[nodiscard]] bool is_allowed(const std::vector<Value>& values, std::size_t tick) const;

  const Setting* setting_;
  NodeId watch_;
  Run run_;
  Quiet quiet_;
  Moments moments_;
  std::size_t evaluated_ = 0;
};

}  // namespace detent::solver
