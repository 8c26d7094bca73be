// A line on the terminal that says how far a long check has come; it is gone when the check ends.
#pragma once

#include <chrono>
#include <string>

#include "solver/bounded.hpp"

namespace detent::cli {

/// Writes to standard error, and only if that is a terminal and a second has passed.
class ProgressLine {
 public:
  ProgressLine();
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;
  ~ProgressLine();

  void show(const solver::Progress& progress);
  /// While every run of any length is looked at: questions that are left.
  void show(std::size_t open);
  /// While many altered designs are looked at, one after another: "12 of 40 faults".
  void show(std::size_t done, std::size_t all, const std::string& what);

 private:
  using Clock = std::chrono::steady_clock;
  void write(const std::string& text);
  bool wanted_;
  bool shown_ = false;
  Clock::time_point next_;
};

}  // namespace detent::cli
