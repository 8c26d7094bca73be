#include "cli/lsp/run_places.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/breakage.hpp"
#include "cli/moments.hpp"
#include "cli/relevance.hpp"
#include "cli/words.hpp"
#include "solver/interpreter.hpp"

namespace detent::cli::lsp {
namespace {

using dsl::Model;
using dsl::Signal;

constexpr std::size_t first_moments = 10;
constexpr std::size_t last_moments = 20;

std::string at(const Model& model, Value tick, const std::string& what) {
  return fmt::format("{}, tick {}: {}", seconds_words(tick, model.tick_us), tick, what);
}

std::string hand_moves(const Signal& signal, Value value) {
  return moves_by_itself(signal) ? fate_words(signal, value) : "you " + move_words(signal, value);
}

/// Where each hand of the run stands at power-up, and what of the design is on.
void tell_power_up(const Model& model, const solver::Trace& trace, const std::vector<std::uint32_t>& signals,
                   std::vector<RunPlace>& places) {
  for (const std::uint32_t index : signals) {
    const Signal& signal = model.signals[index];
    const Value value = trace.at(0, signal.node);
    const bool off = signal.sort.kind == dsl::SortKind::condition && value == 0;
    if (signal.role != dsl::SignalRole::hand && off) continue;
    places.push_back({signal.place, at(model, 0, "at power-up " + state_words(signal, value))});
  }
}

void tell_moment(const Model& model, const Moment& moment, std::vector<RunPlace>& places) {
  const std::string slowly =
      moment.until == moment.tick
          ? ""
          : fmt::format(", a step every tick until {}", seconds_words(moment.until, model.tick_us));
  for (const Change& change : moment.moves) {
    const Signal& signal = model.signals[change.signal];
    places.push_back({signal.place, at(model, moment.tick, hand_moves(signal, change.to) + slowly)});
  }
  for (const Change& change : moment.answers) {
    const Signal& signal = model.signals[change.signal];
    places.push_back({signal.place, at(model, moment.tick, change_words(signal, change.to) + slowly)});
  }
}

}  // namespace

std::vector<RunPlace> places_of_run(const Model& model, const dsl::Claim& claim, const solver::Run& run) {
  std::vector<RunPlace> places;
  if (run.ticks() == 0) return places;
  const solver::Trace trace = solver::replay(model.circuit, run);
  const std::vector<std::uint32_t> signals = shown_signals(model, trace, claim, false);
  const std::vector<Moment> moments = find_moments(model, trace, signals);
  tell_power_up(model, trace, signals, places);
  const bool all = moments.size() <= first_moments + last_moments;
  for (std::size_t i = 0; i < moments.size(); ++i) {
    const bool left_out = !all && i >= first_moments && i + last_moments < moments.size();
    if (!left_out) {
      tell_moment(model, moments[i], places);
    } else if (i == first_moments) {
      const std::size_t count = moments.size() - first_moments - last_moments;
      places.push_back(
          {claim.place, at(model, moments[i].tick,
                           fmt::format("from here on {} left out", count_words(count, "moment")))});
    }
  }
  const auto last = static_cast<Value>(run.ticks()) - 1;
  places.push_back({claim.place, at(model, last, break_words(model, claim, trace))});
  // What a design says of itself, such as whether edges count at power-up, stands nowhere in particular.
  std::erase_if(places, [](const RunPlace& one) { return one.place.end == 0; });
  return places;
}

}  // namespace detent::cli::lsp
