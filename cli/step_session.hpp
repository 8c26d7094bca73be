// A design in the hands of a person: where everything stands, what was done, and the way back.
#pragma once

#include <atomic>
#include <functional>
#include <limits>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "cli/chronicle.hpp"
#include "cli/player.hpp"
#include "cli/value_text.hpp"
#include "dsl/front.hpp"

namespace detent::cli {

/// Why something is not done, and what to do instead. Nothing has changed then.
struct Refusal {
  std::string problem;
  std::string mend;
};

/// A claim that breaks in a tick (or, if it is a `possible` one, is done there for the first time).
struct Breaking {
  std::uint32_t claim = 0;
  Value tick = 0;
  std::string words;  ///< "Here the claim breaks: …"
};

/// Time that has passed.
struct Passage {
  Value from = 0, to = -1;          ///< the ticks that were played
  std::vector<Breaking> breakings;  ///< of every claim the first in these ticks
  bool reached = false;             ///< what was waited for has come
  std::optional<std::size_t>
      halted;             ///< the assumption that would not hold in the next tick; time stands still
  bool left_run = false;  ///< a movement has put the loaded run aside
};

/// For Session::go(): as long as it takes.
inline constexpr Value no_limit = std::numeric_limits<Value>::max() / 4;

/// What to wait for: the values of all nodes one tick ago and now.
using Stop = std::function<bool(const std::vector<Value>& before, const std::vector<Value>& now)>;

class Session {
 public:
  /// Of a design with a model; it must outlive the session. Everything stands at rest, without power.
  explicit Session(const dsl::Compiled& compiled);

  [[nodiscard]] const dsl::Model& model() const { return *compiled_->model; }
  [[nodiscard]] bool powered() const { return state_.player.tick() >= 0; }
  [[nodiscard]] Value tick() const { return state_.player.tick(); }
  /// Every node's value now; only with power.
  [[nodiscard]] const std::vector<Value>& values() const { return state_.player.values(); }
  /// Where the inputs stand, one for each of Circuit::inputs().
  [[nodiscard]] const std::vector<Value>& inputs() const { return state_.inputs; }
  /// Inputs that are on their way, as fast as their rate limit lets them, and where to.
  [[nodiscard]] std::vector<Move> on_their_way() const;
  /// Where each claim broke first, or was done first.
  [[nodiscard]] const std::vector<std::optional<Value>>& claims() const { return state_.first; }
  [[nodiscard]] const solver::Trace& trace() const { return chronicle_.trace(); }
  /// What was done so far; only with power.
  [[nodiscard]] HandRun run() const;

  /// Before power-up: puts inputs somewhere.
  void place(const std::vector<Move>& moves);
  /// Moves inputs, and lets `ticks` pass (at least 1), the first of them the one in which the movement is
  /// seen; without power that is tick 0. With `stop` only until that is so. A loaded run goes on by itself,
  /// unless something is moved.
  std::variant<Passage, Refusal> go(const std::vector<Move>& moves, Value ticks, const Stop& stop = {},
                                    const std::atomic<bool>* cancel = nullptr);
  /// Puts a run before one: power is off, and its first positions are taken.
  void load(HandRun run);
  /// Ticks up to the next movement of the loaded run, or to its end; 0 where there is none.
  [[nodiscard]] Value to_next_movement() const;
  [[nodiscard]] Value to_end_of_run() const;
  /// Off, and everything where it stood at power-up.
  void restart();

  bool undo();
  bool redo();

 private:
  struct State {
    Player player;
    std::vector<Value> inputs;
    std::vector<std::optional<Value>> targets;  ///< by input
    std::vector<std::optional<Value>> first;    ///< by claim
    std::shared_ptr<const HandRun> script;
    std::size_t script_row = 0;
  };
  struct Leg {
    std::vector<Move> moves;
    Value ticks = 0;
  };
  struct Done {
    State state;  ///< before it, or after it where it was undone
    std::vector<Leg> legs = {};
    std::unique_ptr<Chronicle> other =
        {};  ///< where it began a new run: what was seen on the other side of it
  };

  void aim(const std::vector<Move>& moves);
  void follow_script();
  void approach();
  [[nodiscard]] bool is_moving() const;
  [[nodiscard]] Value until_script() const;
  void take_down(const std::vector<Value>& before, Passage* passage);
  void take_quiet(Value ticks);
  [[nodiscard]] Refusal not_allowed(std::size_t constraint, bool moved) const;
  [[nodiscard]] Refusal not_come() const;
  std::variant<Passage, Refusal> travel(const Leg& leg, const Stop& stop, const std::atomic<bool>* cancel);
  void remember(Done done);
  [[nodiscard]] State fresh() const;

  const dsl::Compiled* compiled_;
  std::vector<std::optional<Value>> most_per_tick_;  ///< by input
  State state_;
  Chronicle chronicle_;
  std::vector<Done> undo_, redo_;
};

}  // namespace detent::cli
