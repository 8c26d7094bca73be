// The protocol (Abadi and Lamport, "An old-fashioned recipe for real time", TOPLAS 16(5), 1994, section 3.4):
// wait until x = 0; write x := i, within A after that read; wait B; if x = i still, enter, else begin again;
// on leaving write x := 0.
//
// In the published system moves take no time, and those of one moment come one after another in any order.
// Here all that happens in one tick happens at once, and a party moves at most once a tick. So
//   - a move takes a tick: a delay of d units between two moves of a party is d + 1 ticks;
//   - a party reads the x of the tick before, and its read or its entry in the tick of another's write comes
//     first: in the published system an order in which it comes later is one in which it happens a tick
//     later;
//   - of several writes in one tick, `last` chooses freely which comes last and stays.
#include "tests/support/fischer.hpp"

#include <fmt/format.h>

namespace detent::test {
namespace {

std::string party(std::size_t number, const FischerDelays& delays) {
  return fmt::format(
      "button go{0}\n"
      "stages party{0} is resting | reading | waiting | inside\n"
      "  resting -> reading when go{0} and before == 0\n"
      "  reading -> waiting when go{0}\n"
      "  reading -> waiting after {1} ticks\n"
      "  waiting -> inside after {2} ticks when go{0} and before == {0}\n"
      "  waiting -> resting after {2} ticks when go{0} and before != {0}\n"
      "  inside -> resting when go{0}\n"
      "signal writes{0} = rises(party{0} is waiting)\n"
      "signal leaves{0} = falls(party{0} is inside)\n",
      number, delays.write + 1, delays.wait + 1);
}

/// Who writes: first whoever `last` names, then anyone.
std::string shared(std::size_t parties) {
  std::string chosen;
  std::string any;
  std::string writing = "leaving";
  std::string leaving;
  for (std::size_t one = 1; one <= parties; ++one) {
    chosen += fmt::format("if writes{0} and last == {0} then {0} else ", one);
    any += fmt::format("if writes{0} then {0} else ", one);
    writing += fmt::format(" or writes{}", one);
    leaving += fmt::format("{}leaves{}", one == 1 ? "" : " or ", one);
  }
  return fmt::format(
      "channel last from 0 to {}\n"
      "signal before = previous(x, starting 0)\n"
      "signal leaving = {}\n"
      "keep x = if leaving and last == 0 then 0 else {}{}0 when {} starting 0\n",
      parties, leaving, chosen, any, writing);
}

std::string two_inside(std::size_t parties) {
  std::string pairs;
  for (std::size_t one = 1; one <= parties; ++one) {
    for (std::size_t other = one + 1; other <= parties; ++other) {
      pairs +=
          fmt::format("{}party{} is inside and party{} is inside", pairs.empty() ? "" : " or ", one, other);
    }
  }
  return pairs;
}

}  // namespace

std::string fischer(std::size_t parties, const FischerDelays& delays) {
  std::string text = "tick 1 ms\npower_up edges ignored\n" + shared(parties);
  for (std::size_t number = 1; number <= parties; ++number) text += party(number, delays);
  return text + "claim apart: never " + two_inside(parties) + "\nclaim enters: possible party1 is inside\n";
}

}  // namespace detent::test
