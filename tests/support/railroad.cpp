// The example of Alur and Dill ("A theory of timed automata", TCS 126, 1994) with the numbers of Gupta and
// Pontelli (RTSS 1997, as a secondary source gives them). In minutes: the train is inside more than 2 and
// gone less than 5 after its approach; the controller orders "lower" exactly 1 after the approach and "raise"
// less than 1 after the train has gone; the gate is down less than 1 after "lower", and up more than 1 and
// less than 2 after "raise".
//
// On a grid of whole ticks "more than 2 min" is at least one tick more, and "less than 1 min" at most one
// tick less. Two things at the same moment may come in either order in the published automata, so the gate
// counts as down for a train that enters only if it was down in the tick before. One train at a time: the
// next is announced when the gate is up again.
#include "tests/support/railroad.hpp"

#include <fmt/format.h>

namespace detent::test {

std::string railroad(const std::string& tick, const RailroadTimes& times, const std::string& closed_at_most) {
  return fmt::format(
      "tick {}\n"
      "button train_moves\nbutton raise_now\nbutton gate_moves\n"
      "stages train is away | near | inside\n"
      "  away   -> near   when train_moves and previous(gate_up)\n"
      "  near   -> inside after 2 min + 1 tick when train_moves\n"
      "  near   -> inside after 5 min - 2 ticks\n"
      "  inside -> away   when train_moves or not previous(recently(approach, 5 min - 3 ticks))\n"
      "signal approach = rises(train is near)\n"
      "signal gone     = previous(train is inside) and train is away\n"
      "stages controller is resting | hearing | lowered | leaving\n"
      "  resting -> hearing when approach\n"
      "  hearing -> lowered after {} s\n"
      "  lowered -> resting when gone and raise_now\n"
      "  lowered -> leaving when gone and not raise_now\n"
      "  leaving -> resting when raise_now\n"
      "  leaving -> resting after 1 min - 1 tick\n"
      "signal lower = rises(controller is lowered)\n"
      "signal raise = previous(controller is lowered or controller is leaving) and controller is resting\n"
      "stages gate is up | closing | down | opening\n"
      "  up      -> down    when lower and gate_moves\n"
      "  up      -> closing when lower and not gate_moves\n"
      "  closing -> down    when gate_moves\n"
      "  closing -> down    after {} s - 1 tick\n"
      "  down    -> opening when raise\n"
      "  opening -> up      after 1 min + 1 tick when gate_moves\n"
      "  opening -> up      after 2 min - 1 tick\n"
      "signal gate_up = gate is up\n"
      "claim safe: whenever train is inside: previous(gate is down)\n"
      "claim not_for_long: not gate_up lasts at most {}\n"
      "claim passes: possible gone\n",
      tick, times.lower, times.closing, closed_at_most);
}

}  // namespace detent::test
