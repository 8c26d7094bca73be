#include "cli/value_text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>

#include "cli/decimal.hpp"
#include "cli/words.hpp"
#include "dsl/decimals.hpp"
#include "dsl/diagnostics.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Signal;
using dsl::SignalRole;
using dsl::SortKind;

Reading<Value> wrong(std::string problem, std::string mend) {
  return {.problem = std::move(problem), .mend = std::move(mend)};
}

/// What is quoted in a message must not flood it.
std::string quoted(std::string_view text) {
  constexpr std::size_t most = 60;
  return fmt::format("'{}{}'", text.substr(0, most), text.size() > most ? "…" : "");
}

std::string level_words(const Signal& signal, const dsl::CircuitInput& input) {
  return fmt::format("it goes from {} to {} in steps of {}", dsl::to_text(input.range.low, signal.sort),
                     dsl::to_text(input.range.high, signal.sort), dsl::to_text(input.step, signal.sort));
}

/// The number in front of the unit, and the unit.
std::pair<std::string_view, std::string_view> split_unit(std::string_view text) {
  const std::size_t end = std::min(text.find_first_not_of("+-.0123456789"), text.size());
  return {text.substr(0, end), trimmed(text.substr(end))};
}

Reading<Value> on_grid(const Signal& signal, const dsl::CircuitInput& input, Value value, bool exact) {
  const dsl::Range& range = input.range;
  if (value < range.low || value > range.high) {
    return wrong(fmt::format("{} has no such level: {}", signal.name, level_words(signal, input)),
                 fmt::format("write a level from {} to {}", dsl::to_text(range.low, signal.sort),
                             dsl::to_text(range.high, signal.sort)));
  }
  const Value below = range.low + (value - range.low) / input.step * input.step;
  if (exact && value == below) return {.value = value};
  const Value above = std::min(below + input.step, range.high);
  return wrong(
      fmt::format("{} has no such level: {}", signal.name, level_words(signal, input)),
      fmt::format("write {} or {}", dsl::to_text(below, signal.sort), dsl::to_text(above, signal.sort)));
}

Reading<Value> read_level(const Model& model, const Signal& signal, std::string_view text) {
  const auto [number, unit] = split_unit(text);
  const std::optional<Decimal> decimal = read_decimal(number);
  const std::string example = signal.role == SignalRole::hand
                                  ? dsl::to_text(model.circuit.inputs()[signal.input].range.low, signal.sort)
                                  : dsl::to_text(0, signal.sort);
  if (!decimal) {
    return wrong(fmt::format("{} is no level of {}", quoted(text), signal.name),
                 fmt::format("write a number with its unit, for example {}", example));
  }
  if (!unit.empty() && unit != signal.sort.unit) {
    return wrong(fmt::format("{} is {}, but {} is meant in {}", quoted(text), "in another unit", signal.name,
                             signal.sort.unit.empty() ? "plain numbers" : signal.sort.unit),
                 fmt::format("write for example {}", example));
  }
  const std::optional<Scaled> value = scaled(*decimal, dsl::power_of_ten(signal.sort.decimals));
  if (!value) {
    return wrong(fmt::format("{} is beyond every level", quoted(text)),
                 fmt::format("write for example {}", example));
  }
  if (signal.role == SignalRole::hand) {
    // Rounding may have gone up: what is told is what lies on either side of what was written.
    const auto fine = scaled(*decimal, Wide{1'000} * dsl::power_of_ten(signal.sort.decimals));
    const Value below =
        value->exact || !fine ? value->value : value->value - (value->value * 1'000 > fine->value ? 1 : 0);
    return on_grid(signal, model.circuit.inputs()[signal.input], below, value->exact);
  }
  if (!value->exact) {
    return wrong(fmt::format("{} never is exactly {}", signal.name, text),
                 fmt::format("write at most {} digits behind the point", signal.sort.decimals));
  }
  return {.value = value->value};
}

Reading<Value> read_word(const Signal& signal, std::string_view text) {
  const std::vector<std::string> words = value_names(signal);
  for (std::size_t index = 0; index < words.size(); ++index) {
    if (words[index] == text) return {.value = static_cast<Value>(index)};
  }
  if (signal.sort.kind == SortKind::condition && (text == "on" || text == "off"))
    return {.value = text == "on"};
  const bool nothing = text.empty();
  return wrong(nothing ? fmt::format("{} is to be what?", signal.name)
                       : fmt::format("{} is never {}", signal.name, quoted(text)),
               name_mend(text, words, fmt::format("{} can be", signal.name)));
}

}  // namespace

std::vector<std::string> value_names(const Signal& signal) {
  if (signal.sort.kind == SortKind::level) return {};
  if (!signal.sort.positions.empty()) return signal.sort.positions;
  return {"off", "on"};
}

std::string name_mend(std::string_view seen, const std::vector<std::string>& known, const std::string& are) {
  constexpr std::size_t most = 12;
  const std::string near = seen.size() > 80 ? "" : dsl::nearest_name(seen, known);
  if (!near.empty()) return fmt::format("did you mean '{}'?", near);
  const std::size_t told = std::min(most, known.size());
  return fmt::format("{}: {}{}", are,
                     fmt::join(known.begin(), known.begin() + static_cast<std::ptrdiff_t>(told), ", "),
                     known.size() > told ? ", …" : "");
}

Reading<Value> read_value(const Model& model, const Signal& signal, std::string_view text) {
  text = trimmed(text);
  return signal.sort.kind == SortKind::level ? read_level(model, signal, text) : read_word(signal, text);
}

std::vector<std::string> signal_names(const Model& model, bool hands) {
  std::vector<std::string> names;
  for (const Signal& signal : model.signals) {
    if (!hands || signal.role == SignalRole::hand) names.push_back(signal.name);
  }
  return names;
}

std::optional<std::uint32_t> take_signal(const Model& model, std::string_view& text, bool hands) {
  std::optional<std::uint32_t> found;
  std::size_t longest = 0;
  for (std::uint32_t index = 0; index < model.signals.size(); ++index) {
    const Signal& signal = model.signals[index];
    const std::size_t length = signal.name.size();
    const bool fits = text.starts_with(signal.name) && (text.size() == length || text[length] == ' ' ||
                                                        text[length] == '\t' || text[length] == '=');
    if (!fits || length <= longest || (hands && signal.role != SignalRole::hand)) continue;
    found = index;
    longest = length;
  }
  text = trimmed(text.substr(longest));
  return found;
}

Reading<std::vector<Move>> read_moves(const Model& model, std::string_view text) {
  std::vector<Move> moves;
  while (true) {
    const std::size_t comma = std::min(text.find(','), text.size());
    std::string_view one = trimmed(text.substr(0, comma));
    const std::string_view whole = one;
    const std::optional<std::uint32_t> signal = take_signal(model, one, true);
    if (!signal) {
      if (whole.empty()) {
        return {.problem = "a movement is missing beside a comma", .mend = "write for example: thrust 40 %"};
      }
      const std::string_view name = whole.substr(0, whole.find_first_of(" \t="));
      return {.problem = fmt::format("no input is called {}", quoted(name)),
              .mend = name_mend(name, signal_names(model, true), "the inputs are")};
    }
    for (const std::string_view word : std::array<std::string_view, 4>{"to ", "at ", "is ", "="}) {
      if (one.starts_with(word)) one = trimmed(one.substr(word.size()));
    }
    Reading<Value> value = read_value(model, model.signals[*signal], one);
    if (!value.value) return {.problem = std::move(value.problem), .mend = std::move(value.mend)};
    if (std::any_of(moves.begin(), moves.end(), [&](const Move& move) { return move.signal == *signal; })) {
      return {.problem = fmt::format("{} is moved twice at once", model.signals[*signal].name),
              .mend = "leave one of the two out, or let time pass between them"};
    }
    moves.push_back({*signal, *value.value});
    if (comma == text.size()) return {.value = std::move(moves)};
    text.remove_prefix(comma + 1);
  }
}

std::string move_text(const Model& model, const Move& move) {
  const Signal& signal = model.signals[move.signal];
  return fmt::format("{} {}", signal.name, dsl::to_text(move.value, signal.sort));
}

std::vector<Value> at_rest(const Model& model) {
  std::vector<Value> values;
  for (const dsl::CircuitInput& input : model.circuit.inputs()) {
    const bool has_zero = input.range.low <= 0 && input.range.high >= 0 && input.range.low % input.step == 0;
    values.push_back(has_zero ? 0 : input.range.low);
  }
  return values;
}

}  // namespace detent::cli
