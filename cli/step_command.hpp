// What a person types in `detent step`, understood.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/step_session.hpp"
#include "cli/value_text.hpp"

namespace detent::cli {

struct Command {
  enum class Kind {
    nothing,
    moves,
    pass,
    until,
    power_on,
    next,
    rest,
    violation,
    load,
    save,
    show,
    claims,
    diagram,
    undo,
    redo,
    restart,
    help,
    quit
  };
  /// What `until` waits for.
  struct Wait {
    enum class Kind { changes, is, is_not, at_least, at_most, above, below, breaks };
    Kind kind = Kind::changes;
    std::uint32_t signal = 0;
    Value value = 0;
    std::optional<std::uint32_t> claim = {};  ///< breaks: this one, or any
  };

  Kind kind = Kind::nothing;
  std::vector<Move> moves = {};
  Value count = 0;                  ///< ticks; undo, redo: how many
  std::optional<Value> limit = {};  ///< until: ticks
  Wait wait = {};
  std::uint32_t claim = 0;                  ///< violation
  std::vector<std::uint32_t> signals = {};  ///< show, diagram
  bool all = false;                         ///< show
  bool over = false;                        ///< save: a file that is there already
  std::string file = {};                    ///< load, save
};

/// One command, without `;`.
[[nodiscard]] Reading<Command> read_command(const dsl::Model& model, std::string_view text);

}  // namespace detent::cli
