#include "cli/step_wait.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/decimal.hpp"
#include "cli/step_words.hpp"
#include "cli/time_text.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Signal;
using Kind = Command::Kind;
using Wait = Command::Wait;

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

}  // namespace

Reading<Command> read_until(const Model& model, std::string_view text) {
  if (text.ends_with(" within"))
    return wrong("within which time?", "write for example: until live is on within 5 s");
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

}  // namespace detent::cli
