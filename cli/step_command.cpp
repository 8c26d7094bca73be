// A movement begins with an input's name, so names come first: a button called `next` can be pressed.
#include "cli/step_command.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/decimal.hpp"
#include "cli/time_text.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Signal;
using Kind = Command::Kind;
using Wait = Command::Wait;

Reading<Command> wrong(std::string problem, std::string mend) {
  return {.problem = std::move(problem), .mend = std::move(mend)};
}

Reading<Command> good(Command command) {
  return {.value = std::move(command)};
}

std::string quoted(std::string_view text) {
  return fmt::format("'{}{}'", text.substr(0, 60), text.size() > 60 ? "…" : "");
}

/// The first word; the rest is left in `text`.
std::string_view take_word(std::string_view& text) {
  const std::size_t end = std::min(text.find_first_of(" \t"), text.size());
  const std::string_view word = text.substr(0, end);
  text = trimmed(text.substr(end));
  return word;
}

std::vector<std::string> claim_names(const Model& model) {
  std::vector<std::string> names;
  for (const dsl::Claim& claim : model.claims) names.push_back(claim.name);
  return names;
}

std::optional<std::uint32_t> claim_called(const Model& model, std::string_view name) {
  for (std::uint32_t index = 0; index < model.claims.size(); ++index) {
    if (model.claims[index].name == name) return index;
  }
  return std::nullopt;
}

// ---- until ----

struct Sign {
  std::string_view text;
  Wait::Kind kind;
};
constexpr Sign signs[] = {{">=", Wait::Kind::at_least},    {"<=", Wait::Kind::at_most},
                          {"==", Wait::Kind::is},          {"!=", Wait::Kind::is_not},
                          {">", Wait::Kind::above},        {"<", Wait::Kind::below},
                          {"is not ", Wait::Kind::is_not}, {"is ", Wait::Kind::is}};

constexpr const char* until_mend =
    "write for example: until live changes, until live is on, until jet >= 20 %, until a claim breaks";

Reading<Command> read_breaks(const Model& model, std::string_view subject) {
  Command command{.kind = Kind::until, .wait = {.kind = Wait::Kind::breaks}};
  if (subject == "a claim") return good(command);
  const auto claim = claim_called(model, subject);
  if (!claim)
    return wrong(fmt::format("no claim is called {}", quoted(subject)),
                 name_mend(subject, claim_names(model), "the claims are"));
  command.wait.claim = claim;
  return good(command);
}

Reading<Command> read_wait(const Model& model, std::string_view text) {
  if (text.ends_with(" breaks")) return read_breaks(model, trimmed(text.substr(0, text.size() - 7)));
  std::string_view rest = text;
  const auto signal = take_signal(model, rest, false);
  if (!signal) {
    const std::string_view name = take_word(rest);
    if (name.empty()) return wrong("until what?", until_mend);
    return wrong(fmt::format("nothing is called {}", quoted(name)),
                 name_mend(name, signal_names(model, false), "there are"));
  }
  Command command{.kind = Kind::until, .wait = {.signal = *signal}};
  if (rest == "changes") return good(command);
  const Signal& of = model.signals[*signal];
  for (const Sign& sign : signs) {
    if (!rest.starts_with(sign.text)) continue;
    const bool ordered = sign.kind != Wait::Kind::is && sign.kind != Wait::Kind::is_not;
    if (ordered && of.sort.kind != dsl::SortKind::level) {
      return wrong(fmt::format("{} is no level, so it is never more or less", of.name),
                   fmt::format("write: until {} is {}", of.name, value_names(of).back()));
    }
    const Reading<Value> value = read_value(model, of, rest.substr(sign.text.size()));
    if (!value.value) return wrong(value.problem, value.mend);
    command.wait.kind = sign.kind;
    command.wait.value = *value.value;
    return good(command);
  }
  return wrong(fmt::format("until {} does what?", of.name), until_mend);
}

Reading<Command> read_until(const Model& model, std::string_view text) {
  const std::size_t within = text.rfind(" within ");
  if (within == std::string_view::npos) return read_wait(model, text);
  const Reading<Value> limit = read_moment(text.substr(within + 8), model.tick_us);
  if (!limit.value || *limit.value < 1)
    return wrong(limit.value ? "within no time at all nothing comes" : limit.problem,
                 "write for example: until live is on within 5 s");
  Reading<Command> command = read_wait(model, trimmed(text.substr(0, within)));
  if (command.value) command.value->limit = limit.value;
  return command;
}

// ---- The others ----

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

struct Word {
  std::string_view text;
  Kind kind;
};
constexpr Word words[] = {
    {"next", Kind::next},       {"rest", Kind::rest},           {"until", Kind::until},
    {"undo", Kind::undo},       {"redo", Kind::redo},           {"show", Kind::show},
    {"claims", Kind::claims},   {"diagram", Kind::diagram},     {"save", Kind::save},
    {"load", Kind::load},       {"violation", Kind::violation}, {"power", Kind::power_on},
    {"restart", Kind::restart}, {"help", Kind::help},           {"quit", Kind::quit}};

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

std::vector<std::string> all_words() {
  std::vector<std::string> names;
  for (const Word& word : words) names.emplace_back(word.text);
  return names;
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
  for (const Word& word : words) {
    if (word.text == first) return read_word(model, word.kind, rest);
  }
  std::vector<std::string> known = all_words();
  for (std::string& name : signal_names(model, true)) known.push_back(std::move(name));
  const std::string near = first.size() > 80 ? "" : dsl::nearest_name(first, known);
  return wrong(
      fmt::format("{} is no input and no command", quoted(first)),
      near.empty() ? "help lists the commands, show the inputs" : fmt::format("did you mean '{}'?", near));
}

Stop stop_for(const Model& model, const Wait& wait) {
  if (wait.kind == Wait::Kind::breaks) {
    std::vector<dsl::NodeId> watches;
    for (std::uint32_t index = 0; index < model.claims.size(); ++index) {
      const dsl::Claim& claim = model.claims[index];
      if (wait.claim ? *wait.claim == index : !claim.possible) watches.push_back(claim.watch);
    }
    return [watches](const std::vector<Value>&, const std::vector<Value>& now) {
      return std::any_of(watches.begin(), watches.end(), [&](dsl::NodeId node) { return now[node] != 0; });
    };
  }
  return [node = model.signals[wait.signal].node, wait](const std::vector<Value>& before,
                                                        const std::vector<Value>& now) {
    const Value value = now[node];
    switch (wait.kind) {
      case Wait::Kind::changes:
        return value != before[node];
      case Wait::Kind::is:
        return value == wait.value;
      case Wait::Kind::is_not:
        return value != wait.value;
      case Wait::Kind::at_least:
        return value >= wait.value;
      case Wait::Kind::at_most:
        return value <= wait.value;
      case Wait::Kind::above:
        return value > wait.value;
      case Wait::Kind::below:
        return value < wait.value;
      case Wait::Kind::breaks:
        break;
    }
    return false;
  };
}

std::string already_words(const Model& model, const Wait& wait, const Session& session) {
  const bool waits =
      !session.powered() || wait.kind == Wait::Kind::changes || wait.kind == Wait::Kind::breaks;
  if (waits || !stop_for(model, wait)(session.values(), session.values())) return "";
  const Signal& signal = model.signals[wait.signal];
  return state_words(signal, session.values()[signal.node]) + " already";
}

// ---- Completion ----

namespace {

void keep_beginning(std::vector<std::string>& names, std::string_view part) {
  names.erase(std::remove_if(names.begin(), names.end(),
                             [&](const std::string& name) { return !name.starts_with(part); }),
              names.end());
  std::sort(names.begin(), names.end());
  names.erase(std::unique(names.begin(), names.end()), names.end());
}

void add(std::vector<std::string>& names, std::vector<std::string> more) {
  for (std::string& name : more) names.push_back(std::move(name));
}

Completion completed(std::string_view part, std::vector<std::string> names) {
  keep_beginning(names, part);
  return {std::string(part), std::move(names)};
}

/// Behind the name of a signal: its values.
std::optional<Completion> complete_value(const Model& model, std::string_view text, bool hands,
                                         std::vector<std::string> more) {
  std::string_view rest = text;
  const auto signal = take_signal(model, rest, hands);
  if (!signal || text.size() == model.signals[*signal].name.size()) return std::nullopt;
  add(more, value_names(model.signals[*signal]));
  for (const std::string_view word : {std::string_view("is"), std::string_view("to")}) {
    const bool whole =
        rest.starts_with(word) && (rest.size() > word.size() ? rest[word.size()] == ' ' : text.back() == ' ');
    if (whole) rest = trimmed(rest.substr(word.size()));
  }
  return completed(rest, std::move(more));
}

}  // namespace

Completion complete(const Model& model, std::string_view typed) {
  const std::size_t semicolon = typed.rfind(';');
  if (semicolon != std::string_view::npos) typed = typed.substr(semicolon + 1);
  const auto from_first = [](std::string_view text) {
    return text.substr(std::min(text.find_first_not_of(" \t"), text.size()));
  };
  typed = from_first(typed);
  const std::string_view first = typed.substr(0, std::min(typed.find_first_of(" \t"), typed.size()));
  const bool behind_first = first.size() < typed.size();
  std::string_view rest = from_first(typed.substr(first.size()));
  if (behind_first && first == "until") {
    if (auto values = complete_value(model, rest, false, {"is", "changes"})) return std::move(*values);
    std::vector<std::string> names = signal_names(model, false);
    names.emplace_back("a claim breaks");
    return completed(rest, std::move(names));
  }
  if (behind_first && first == "violation") return completed(rest, claim_names(model));
  if (behind_first && first == "power") return completed(rest, {"on"});
  if (behind_first && (first == "show" || first == "diagram")) {
    const std::size_t comma = rest.rfind(',');
    if (comma != std::string_view::npos) rest = from_first(rest.substr(comma + 1));
    return completed(rest, signal_names(model, false));
  }
  const std::size_t comma = typed.rfind(',');
  const std::string_view move = comma == std::string_view::npos ? typed : from_first(typed.substr(comma + 1));
  if (auto values = complete_value(model, move, true, {})) return std::move(*values);
  std::vector<std::string> names = signal_names(model, true);
  if (comma == std::string_view::npos) add(names, all_words());
  return completed(move, std::move(names));
}

}  // namespace detent::cli
