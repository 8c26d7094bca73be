#include "cli/model_clock.hpp"

#include <algorithm>

#include "cli/breakage.hpp"

namespace detent::cli {
namespace {

/// A log may have any length; what is kept of the run for the words of a broken claim may not.
constexpr std::size_t largest_chronicle = 64U * 1024U * 1024U;

}  // namespace

ModelClock::ModelClock(const dsl::Model& model, const std::vector<std::uint32_t>& claims)
    : model_(model),
      tick_(model.tick_us * 1'000),
      player_(model),
      chronicle_(model.circuit, condition_nodes(model)),
      watch_(model, claims) {}

void ModelClock::judge() {
  const Value tick = player_.tick();
  if (!unkept_) {
    if (const auto constraint = unkept_in(model_, player_.values())) unkept_ = Unkept{*constraint, tick};
  }
  for (const std::size_t index : watch_.look(player_.values(), tick)) {
    ClaimOnRun& found = watch_.claims()[index];
    found.words =
        whole_ ? break_words(model_, model_.claims[found.claim], chronicle_.ending(before_, player_.values()))
               : "The log is too long for the story behind it.";
  }
}

Nanoseconds ModelClock::reach(Nanoseconds moment, Nanoseconds to, const std::vector<Value>& inputs) {
  const Value wanted = moment / tick_;
  while (player_.tick() < wanted) {
    if (player_.tick() >= 0) before_ = player_.values();
    player_.step(inputs);
    if (before_.empty()) before_ = player_.values();
    whole_ = whole_ && chronicle_.size() < largest_chronicle;
    if (whole_) chronicle_.add(player_.values());
    if (judging_) judge();
    // Ticks after this one that are reached before the next row.
    const Value ahead = (to - 1) / tick_ - player_.tick();
    const Value quiet = player_.quiet(ahead);
    player_.pass(quiet);
    if (whole_ && quiet > 0) {
      whole_ =
          chronicle_.size() + static_cast<std::size_t>(quiet) * sizeof(std::uint32_t) < largest_chronicle;
      if (whole_) chronicle_.add(player_.values(), quiet);
    }
    if (quiet > 0) before_ = player_.values();
  }
  return std::min(to, (player_.tick() + 1) * tick_);
}

}  // namespace detent::cli
