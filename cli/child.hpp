// Another program, run to its end.
#pragma once

#include <atomic>
#include <chrono>
#include <optional>
#include <string>
#include <vector>

namespace detent::cli {

/// What it wrote to standard output (at most 1 MiB of it); its messages go to where ours go.
struct ChildAnswer {
  bool started = false;
  bool in_time = true;
  int status = -1;  ///< its exit status, -1 if it was ended by a signal
  std::string output = {};
};

/// `words` are the program (looked up in PATH) and its arguments. It is ended when the time is over or
/// `cancel` comes to be set (then `in_time` is false), and with it whatever it started and left behind.
[[nodiscard]] ChildAnswer run_child(const std::vector<std::string>& words, std::chrono::milliseconds timeout,
                                    const std::atomic<bool>* cancel = nullptr);

}  // namespace detent::cli
