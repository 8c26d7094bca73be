// A movement begins with an input's name, so names come first: a button called `next` can be pressed.
#include "cli/step_command.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/decimal.hpp"
#include "cli/step_wait.hpp"
#include "cli/step_words.hpp"
#include "cli/time_text.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using Kind = Command::Kind;

Reading<Command> read_signals(const Model& model, Kind kind, std::string_view text) {
  Command command{.kind = kind};
  if (kind == Kind::show && text == "all") {
    command.all = true;
    return good(command);
  }
  while (!text.empty()) {
    const std::size_t comma = std::min(text.find(','), text.size());
    std::string_view name = trimmed(text.substr(0, comma));
    const std::string_view whole = name;
    const auto signal = take_signal(model, name, false);
    if (!signal || !name.empty()) {
      return wrong(fmt::format("nothing is called {}", quoted(whole)),
                   name_mend(whole, signal_names(model, false), "there are"));
    }
    command.signals.push_back(*signal);
    text.remove_prefix(std::min(comma + 1, text.size()));
  }
  return good(command);
}

Reading<Command> read_count(Kind kind, std::string_view text) {
  Command command{.kind = kind, .count = 1};
  if (text.empty()) return good(command);
  const auto number =
      text.find_first_not_of("0123456789") == std::string_view::npos ? read_decimal(text) : std::nullopt;
  const auto count = number ? scaled(*number, 1) : std::nullopt;
  if (!count || count->value < 1 || count->value > 1'000'000)
    return wrong(fmt::format("{} is no number of steps", quoted(text)), "write for example: undo 3");
  command.count = count->value;
  return good(command);
}

Reading<Command> read_violation(const Model& model, std::string_view text) {
  const auto claim = claim_called(model, text);
  if (!claim)
    return wrong(text.empty() ? "of which claim?" : fmt::format("no claim is called {}", quoted(text)),
                 name_mend(text, claim_names(model), "the claims are"));
  return good({.kind = Kind::violation, .claim = *claim});
}

Reading<Command> read_file(Kind kind, std::string_view text) {
  Command command{.kind = kind};
  if (kind == Kind::save && text.starts_with("over ")) {
    command.over = true;
    text = trimmed(text.substr(5));
  }
  command.file = text;
  const bool run = text.ends_with(".run") || (kind == Kind::load && text.ends_with(".json"));
  const bool log = kind == Kind::save && text.ends_with(".csv");
  if (run || log) return good(command);
  return wrong(
      text.empty() ? "to or from which file?" : fmt::format("{} says not what it is to hold", quoted(text)),
      kind == Kind::save ? "write: save NAME.run for a run, or save NAME.csv for a log"
                         : "write: load NAME.run or load NAME.run.json");
}

Reading<Command> read_bare(Kind kind, std::string_view rest) {
  if (rest.empty()) return good({.kind = kind});
  return wrong(fmt::format("{} is one word too many", quoted(rest)), "leave it out");
}

Reading<Command> read_word(const Model& model, Kind kind, std::string_view rest) {
  switch (kind) {
    case Kind::until:
      return read_until(model, rest);
    case Kind::undo:
    case Kind::redo:
      return read_count(kind, rest);
    case Kind::show:
    case Kind::diagram:
      return read_signals(model, kind, rest);
    case Kind::save:
    case Kind::load:
      return read_file(kind, rest);
    case Kind::violation:
      return read_violation(model, rest);
    case Kind::power_on:
      return rest == "on"
                 ? good({.kind = kind})
                 : wrong("power can only come on here", "write: power on; or restart, to begin once more");
    default:
      return read_bare(kind, rest);
  }
}

}  // namespace

Reading<Command> read_command(const Model& model, std::string_view text) {
  text = trimmed(text);
  if (text.empty() || text.starts_with("//")) return good({});
  std::string_view rest = text;
  if (take_signal(model, rest, true) && (!rest.empty() || text.find(',') != std::string_view::npos)) {
    Reading<std::vector<Move>> moves = read_moves(model, text);
    if (!moves.value) return wrong(moves.problem, moves.mend);
    return good({.kind = Kind::moves, .moves = std::move(*moves.value)});
  }
  rest = text;
  if (const auto time = take_time(rest)) {
    if (!rest.empty())
      return wrong(fmt::format("{} is one word too many", quoted(rest)), "part commands by ;");
    const Reading<Value> ticks = read_moment(*time, model.tick_us);
    if (!ticks.value) return wrong(ticks.problem, ticks.mend);
    return good({.kind = Kind::pass, .count = *ticks.value});
  }
  rest = text;
  const std::string_view first = take_word(rest);
  if (const auto kind = command_called(first)) return read_word(model, *kind, rest);
  rest = text;
  if (const auto hand = take_signal(model, rest, true)) {
    return wrong(
        fmt::format("{} is to be what?", model.signals[*hand].name),
        "write for example: " + move_text(model, {*hand, at_rest(model)[model.signals[*hand].input]}));
  }
  std::vector<std::string> known = command_names();
  for (std::string& name : signal_names(model, true)) known.push_back(std::move(name));
  const std::string near = first.size() > 80 ? "" : dsl::nearest_name(first, known);
  return wrong(
      fmt::format("{} is no input and no command", quoted(first)),
      near.empty() ? "help lists the commands, show the inputs" : fmt::format("did you mean '{}'?", near));
}

}  // namespace detent::cli
