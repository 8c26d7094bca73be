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

void ProgressLine::write(const std::string& text) {
  if (!wanted_ || Clock::now() < next_) return;
  next_ = Clock::now() + pause;
  shown_ = true;
  std::fputs(("\r" + text + "\x1b[K").c_str(), stderr);
  std::fflush(stderr);
}

void ProgressLine::show(const solver::Progress& progress) {
  write(fmt::format("tick {} of {}, {} open", progress.ticks_done, progress.ticks_asked,
                    count_words(progress.claims_open, "claim")));
}

void ProgressLine::show(std::size_t open) {
  write(fmt::format("any length, {} open", count_words(open, "question")));
}

void ProgressLine::show(std::size_t done, std::size_t all, const std::string& what) {
  write(fmt::format("{} of {}", done, count_words(all, what)));
}

}  // namespace detent::cli
