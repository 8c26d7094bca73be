// The causes are folded first: what a link passes on unchanged is the hand's own value, and what is off from
// the start, for no reason, or a link that is never lost, explains nothing.
#include "cli/why_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "cli/breakage.hpp"
#include "cli/relevance.hpp"
#include "cli/words.hpp"
#include "solver/interpreter.hpp"
#include "solver/why.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Signal;
using dsl::SignalRole;
using solver::Cause;
using solver::Trace;

struct Telling {
  const Model& model;
  const Trace& trace;
  const std::vector<Cause>& causes;

  [[nodiscard]] std::uint32_t told(const Cause& cause) const {
    return told_signal(model, trace, cause.signal);
  }
  [[nodiscard]] const Signal& signal(const Cause& cause) const { return model.signals[told(cause)]; }
};

/// What a link passes on stands for the hand, which is a cause of its own.
bool is_folded(const Telling& telling, const Cause& cause) {
  return telling.told(cause) != cause.signal;
}

bool says_nothing(const Telling& telling, const Cause& cause) {
  const Signal& signal = telling.signal(cause);
  const bool quiet_link =
      is_link(signal) && cause.value == 0 && !changes(telling.model, telling.trace, telling.told(cause));
  const bool always_off = signal.role != SignalRole::hand && signal.sort.kind == dsl::SortKind::condition &&
                          cause.value == 0 && cause.tick == 0 && cause.because.empty();
  return quiet_link || always_off || is_power_up_choice(telling.model, telling.told(cause));
}

/// A reason that has passed by the time of its effect (the other half of an edge) is told in the past.
std::string reason_words(const Telling& telling, const Cause& reason, std::size_t tick) {
  const Signal& signal = telling.signal(reason);
  if (telling.trace.at(tick, signal.node) == reason.value) return state_words(signal, reason.value);
  return fmt::format("{} was {}", spoken_name(signal), being_words(signal, reason.value));
}

std::string by_hand_words(const Signal& signal, const Cause& cause) {
  if (moves_by_itself(signal))
    return cause.tick == 0 ? state_words(signal, cause.value) : fate_words(signal, cause.value);
  if (cause.tick == 0) return hand_words(signal, cause.value, true);
  return "you " + move_words(signal, cause.value);
}

std::string cause_words(const Telling& telling, const Cause& cause) {
  const Signal& signal = telling.signal(cause);
  if (signal.role == SignalRole::hand) return by_hand_words(signal, cause);
  std::vector<std::string> because;
  for (const std::size_t index : cause.because) {
    const Cause& reason = telling.causes[index];
    if (says_nothing(telling, reason)) continue;
    std::string words = reason_words(telling, reason, cause.tick);
    if (std::find(because.begin(), because.end(), words) == because.end())
      because.push_back(std::move(words));
  }
  const std::string text =
      cause.tick == 0 ? state_words(signal, cause.value) : change_words(signal, cause.value);
  return because.empty() ? text : fmt::format("{}, because {}", text, list_words(because));
}

void add_causes(Page& page, const Telling& telling, const Terminal& terminal) {
  std::optional<std::size_t> tick;
  for (const Cause& cause : telling.causes) {
    if (is_folded(telling, cause) || says_nothing(telling, cause)) continue;
    if (tick != cause.tick) {
      tick = cause.tick;
      const auto ticks = static_cast<Value>(cause.tick);
      page.push_back({});
      page.push_back(
          {{fmt::format("{}, tick {}", seconds_words(ticks, telling.model.tick_us), ticks), Style::strong}});
    }
    add_paragraph(page, "  ", cause_words(telling, cause), terminal);
  }
}

std::vector<std::string> names_of(const Model& model, const std::vector<std::uint32_t>& signals) {
  std::vector<std::string> names;
  for (const std::uint32_t signal : signals) names.push_back(model.signals[signal].name);
  return names;
}

std::string list_or_nothing(const std::vector<std::string>& names) {
  return names.empty() ? "nothing" : list_words(names);
}

}  // namespace

std::vector<std::pair<std::string, std::string>> proof_reasons(const Model& model,
                                                               const solver::Proof& proof) {
  const solver::ProofReasons reasons = solver::reasons_for(model, proof);
  std::vector<std::string> assumptions;
  for (const std::size_t index : reasons.assumptions) assumptions.push_back(model.constraints[index].name);
  return {
      {"It rests on", list_or_nothing(names_of(model, reasons.needed)) + "."},
      {"It needs the assumptions", list_or_nothing(assumptions) + "."},
      {"It does not need", list_or_nothing(names_of(model, reasons.not_needed)) +
                               ". All of these could do anything at any moment, and it would still hold."}};
}

Page run_causes_page(const Model& model, const dsl::Claim& claim, const solver::Run& run,
                     const Terminal& terminal) {
  const Trace trace = solver::replay(model.circuit, run);
  const std::vector<Cause> causes = solver::causes_of(model, claim.watch, run);
  Page page;
  add_paragraph(page, "", break_words(model, claim, trace), terminal);
  page.push_back({});
  add_paragraph(page, "", "What led to it, from the hands on:", terminal);
  add_causes(page, {model, trace, causes}, terminal);
  return page;
}

}  // namespace detent::cli
