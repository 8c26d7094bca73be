// Fischer's mutual exclusion in the language: parties that agree by waiting and one shared value.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace detent::test {

/// Delays in units of time, as published; one unit is one tick.
struct FischerDelays {
  std::size_t write = 0;  ///< A: the write comes at most so long after the read
  std::size_t wait = 0;   ///< B: the entry comes at least so long after the write
};

/// A move takes a tick (see fischer.cpp), so a run of the published system in which the last of
/// `moves_in_a_row` moves happens at time t has it here at tick t + moves_in_a_row - 1.
///
/// Signals: party1, party2, … (stages), x. Claims: `apart` (never two inside), `enters` (party 1 can enter).
[[nodiscard]] std::string fischer(std::size_t parties, const FischerDelays& delays);

}  // namespace detent::test
