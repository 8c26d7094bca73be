// Designs of any size, for measuring.
#pragma once

#include <string>

namespace detent::bench {

/// The flagship (specs/flagship/two_step_unlock.detent) with a window of so many ticks instead of eight
/// seconds.
[[nodiscard]] std::string flagship(long window_ticks);

/// A machine of units, each with a stick, a guard switch, a two-step unlock and an output, under one main
/// switch and one stop button: ten elements a unit. The claims go through the units in turn, in five kinds.
[[nodiscard]] std::string many_units(int elements, int claims);

/// `count` windows one after another, each opened by its own button while the one before is open; the last
/// must never open, which `count` presses refute.
[[nodiscard]] std::string window_chain(int count);

}  // namespace detent::bench
