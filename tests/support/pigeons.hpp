// A question that no limit here is large enough for.
#pragma once

#include <fmt/format.h>

#include <cstddef>
#include <string>

namespace detent::test {

/// A design with a claim `hard`, which holds, and a claim `open`, which falls at once: one pigeon more than
/// there are holes, no two in one. Impossible, and known to be out of reach for solvers of this kind from
/// about 11 holes on (Haken, "The intractability of resolution", TCS 39, 1985). `besides` is a condition that
/// must be true as well.
inline std::string pigeons_text(std::size_t holes, const std::string& besides = "true") {
  std::string text = "tick 1 ms\n";
  std::string all = besides;
  for (std::size_t pigeon = 0; pigeon <= holes; ++pigeon) {
    text += fmt::format("channel p{} from 1 to {}\nsignal q{} = previous(p{}, starting 1)\n", pigeon, holes,
                        pigeon, pigeon);
    for (std::size_t other = 0; other < pigeon; ++other) all += fmt::format(" and p{} != p{}", other, pigeon);
  }
  for (std::size_t pigeon = 0; pigeon <= holes; ++pigeon) all += fmt::format(" and q{} >= 1", pigeon);
  return text + "button easy\nclaim hard: never " + all + "\nclaim open: never easy\n";
}

}  // namespace detent::test
