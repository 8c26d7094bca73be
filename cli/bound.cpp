// The default bound: long enough for every timer of the design to run out and start once more.
#include "cli/bound.hpp"

#include <fmt/format.h>

#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Value;

constexpr Value least = 100;
constexpr Value most = 2000;
constexpr Value extra = 50;

Bound default_bound(const dsl::Model& model) {
  const Value wanted = model.longest_time > most ? most + 1 : 2 * model.longest_time + extra;
  const std::string longest = ticks_words(model.longest_time, model.tick_us);
  if (wanted > most) {
    return {most, fmt::format("the most that is looked at unless --within asks for more; the longest time in "
                              "the design is {}",
                              longest)};
  }
  if (wanted < least) return {least, "the least that is looked at unless --within asks for less"};
  return {wanted, fmt::format("twice the longest time in the design, {}, and {} ticks more", longest, extra)};
}

}  // namespace

Reading<Bound> choose_bound(const dsl::Model& model, const std::optional<std::string>& within) {
  if (!within || *within == "auto") return {.value = default_bound(model)};
  const Reading<Value> ticks = read_ticks(*within, model.tick_us);
  if (!ticks.value) return {.problem = ticks.problem, .mend = ticks.mend};
  return {.value = Bound{*ticks.value, "as --within asks", true}};
}

bool reaches_longest_time(const dsl::Model& model, Value ticks) {
  return model.longest_time < ticks;
}

}  // namespace detent::cli
