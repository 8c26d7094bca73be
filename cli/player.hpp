// A design that is played: tick by tick where something happens, at one stroke where nothing does.
#pragma once

#include <memory>
#include <vector>

#include "dsl/model.hpp"
#include "solver/interpreter.hpp"
#include "solver/quiet.hpp"

namespace detent::cli {

using dsl::Value;

/// Copyable: a copy is the same moment. The model must outlive it.
class Player {
 public:
  explicit Player(const dsl::Model& model);

  /// One tick with these inputs, one for each of Circuit::inputs(). The first is tick 0.
  const std::vector<Value>& step(const std::vector<Value>& inputs);

  /// How many ticks may follow, inputs as they are, in which nothing changes but clocks that count; at most
  /// `most`. Only after step().
  [[nodiscard]] Value quiet(Value most) const;
  /// Lets so many of them pass; at most quiet().
  void pass(Value ticks);

  /// The tick last played; -1 before power-up.
  [[nodiscard]] Value tick() const { return tick_; }
  /// Every node's value in it.
  [[nodiscard]] const std::vector<Value>& values() const { return machine_.values(); }

 private:
  std::shared_ptr<const solver::Quiet> clocks_;
  solver::Interpreter machine_;
  Value tick_ = -1;
};

/// What the hands do in a run, by its changes.
struct HandRun {
  struct Row {
    Value tick = 0;
    std::vector<Value> inputs;  ///< from this tick on, one for each of Circuit::inputs()
    friend bool operator==(const Row&, const Row&) = default;
  };
  std::vector<Row> rows;  ///< ascending; the first is tick 0
  Value ticks = 0;        ///< how many there are in all
  friend bool operator==(const HandRun&, const HandRun&) = default;
};

[[nodiscard]] HandRun by_changes(const solver::Run& run);
[[nodiscard]] solver::Run as_run(const HandRun& hands);

/// Plays a run. `see(values, tick, count)` is called for every stretch of ticks in which no value changes,
/// with its first tick and how many there are; it answers whether to go on.
template <class See>
void play(const dsl::Model& model, const HandRun& run, See see) {
  Player player(model);
  for (std::size_t index = 0; index < run.rows.size(); ++index) {
    const Value end = index + 1 < run.rows.size() ? run.rows[index + 1].tick : run.ticks;
    while (player.tick() + 1 < end) {
      player.step(run.rows[index].inputs);
      const Value first = player.tick();
      const Value more = player.quiet(end - 1 - first);
      player.pass(more);
      if (!see(player.values(), first, more + 1)) return;
    }
  }
}

}  // namespace detent::cli
