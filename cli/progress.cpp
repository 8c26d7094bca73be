// Carriage return, text, erase to the end of the line (ECMA-48 EL): enough for any terminal but a dumb one.
#include "cli/progress.hpp"

#include <fmt/format.h>

#include <cstdio>

#include "cli/terminal.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

constexpr std::chrono::milliseconds patience{1000};
constexpr std::chrono::milliseconds pause{100};

}  // namespace

ProgressLine::ProgressLine() : next_(Clock::now() + patience) {
  const Surroundings around = look_around(2);
  wanted_ = around.is_terminal && around.variable("TERM") != "dumb";
}

ProgressLine::~ProgressLine() {
  if (!shown_) return;
  std::fputs("\r\x1b[K", stderr);
  std::fflush(stderr);
}

void ProgressLine::show(const solver::Progress& progress) {
  if (!wanted_ || Clock::now() < next_) return;
  next_ = Clock::now() + pause;
  shown_ = true;
  const std::string text = fmt::format("\rtick {} of {}, {} open\x1b[K", progress.ticks_done,
                                       progress.ticks_asked, count_words(progress.claims_open, "claim"));
  std::fputs(text.c_str(), stderr);
  std::fflush(stderr);
}

}  // namespace detent::cli
