// The railroad gate in the language: one train, a controller and a gate.
#pragma once

#include <string>

namespace detent::test {

/// In seconds, as published; the other numbers of the example are fixed (railroad.cpp).
struct RailroadTimes {
  int lower = 60;    ///< from the approach to the order to lower, exactly
  int closing = 60;  ///< from that order to the gate being down, less than this
};

/// `tick` as the language writes it, "15 s". `closed_at_most`, a time in the language, is what `not_for_long`
/// claims. Claims: `safe` (the gate is down before the train is inside), `not_for_long`, `passes` (a train
/// can get through).
[[nodiscard]] std::string railroad(const std::string& tick, const RailroadTimes& times,
                                   const std::string& closed_at_most);

}  // namespace detent::test
