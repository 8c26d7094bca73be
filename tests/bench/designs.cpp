#include "tests/bench/designs.hpp"

#include <fmt/format.h>

#include <fstream>
#include <regex>
#include <sstream>

namespace detent::bench {

std::string flagship(long window_ticks) {
  std::ifstream file(DETENT_SOURCE_DIR "/specs/flagship/two_step_unlock.detent");
  std::ostringstream text;
  text << file.rdbuf();
  const std::string shorter =
      std::regex_replace(text.str(), std::regex("7980 ms"), fmt::format("{} ticks", window_ticks - 1));
  return std::regex_replace(shorter, std::regex("\\b8 s\\b"), fmt::format("{} ticks", window_ticks));
}

std::string many_units(int elements, int claims) {
  std::string text =
      "tick 20 ms\nbutton stop\nswitch main is safe | run\n"
      "latch power set rises(main is run) reset stop or main is safe\n";
  const int units = std::max(1, elements / 10);
  for (int unit = 0; unit < units; ++unit) {
    text +=
        std::regex_replace(std::string("channel stickN from -100 % to 100 % step 1 %\n"
                                       "switch guardN is safe | run\n"
                                       "button nudgeN\n"
                                       "signal idleN = below(stickN, -97 %, until -95 %)\n"
                                       "delay settledN on idleN for 500 ms\n"
                                       "pulse windowN on nudgeN and settledN for 8 s cancelled by not power\n"
                                       "latch liveN set windowN and settledN and rises(guardN is run)\n"
                                       "      reset guardN is safe or not power\n"
                                       "linger warmN on liveN for 2 s\n"
                                       "counter startsN up liveN reset stop from 0 to 3\n"
                                       "output outN = stickN when liveN and power else -100 %\n"),
                           std::regex("N\\b"), std::to_string(unit));
  }
  const char* kinds[] = {"whenever rises(liveN): settledN", "rises(liveN) only within 8 s after nudgeN",
                         "whenever stop: outN == -100 %", "whenever guardN is safe: not liveN",
                         "always (liveN implies warmN and startsN >= 0)"};
  for (int claim = 0; claim < claims; ++claim) {
    const std::string kind = kinds[claim % 5];
    text += fmt::format("claim c{}: ", claim) +
            std::regex_replace(kind, std::regex("N\\b"), std::to_string(claim % units)) + "\n";
  }
  return text;
}

std::string window_chain(int count) {
  std::string text = "tick 20 ms\nbutton press0\npulse window0 on press0 for 8 s\n";
  for (int link = 1; link < count; ++link) {
    text += fmt::format(
        "button press{0}\npulse window{0} on press{0} and window{1} and not rises(window{1}) for 8 s\n", link,
        link - 1);
  }
  return text + fmt::format("claim never_open: never window{}\n", count - 1);
}

}  // namespace detent::bench
