// Values and movements as people write them: "thrust 40 %", "guard safe", "radio lost". Exact or refused.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "cli/quantities.hpp"
#include "dsl/model.hpp"

namespace detent::cli {

/// The value that the text says, of this signal: a position by its name, a condition by its word or as
/// on/off, a level as a number with its unit or without. For a hand it is one that the input can take.
[[nodiscard]] Reading<dsl::Value> read_value(const dsl::Model& model, const dsl::Signal& signal,
                                             std::string_view text);

/// An input takes a value.
struct Move {
  std::uint32_t signal = 0;  ///< index into Model::signals, role hand
  dsl::Value value = 0;
  friend bool operator==(const Move&, const Move&) = default;
};

/// "thrust -100 %, guard safe". Between name and value there may stand to, at, is or =.
[[nodiscard]] Reading<std::vector<Move>> read_moves(const dsl::Model& model, std::string_view text);

/// What read_moves() takes for this movement: "thrust 40 %".
[[nodiscard]] std::string move_text(const dsl::Model& model, const Move& move);

/// The signal whose name the text begins with, the longest there is; the rest of the text is left in `text`.
/// Nothing, and `text` as it was, if there is none. `hands`: inputs only.
[[nodiscard]] std::optional<std::uint32_t> take_signal(const dsl::Model& model, std::string_view& text,
                                                       bool hands);

/// The names of all signals, or of all inputs.
[[nodiscard]] std::vector<std::string> signal_names(const dsl::Model& model, bool hands);

/// The words that a value of the signal can be written with; none for a level.
[[nodiscard]] std::vector<std::string> value_names(const dsl::Signal& signal);

/// "did you mean 'thrust'?", or that list behind "the inputs are: ".
[[nodiscard]] std::string name_mend(std::string_view seen, const std::vector<std::string>& known,
                                    const std::string& are);

/// Where every input stands if nobody says otherwise, one value for each of Circuit::inputs(): released,
/// there, at its first position, at 0, or at its lowest where it has no 0.
[[nodiscard]] std::vector<dsl::Value> at_rest(const dsl::Model& model);

}  // namespace detent::cli
