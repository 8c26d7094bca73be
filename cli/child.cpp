// The child leads a process group of its own, so that what it starts can be ended with it.
#include "cli/child.hpp"

#include <fcntl.h>
#include <poll.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <csignal>
#include <ctime>

namespace detent::cli {
namespace {

using Clock = std::chrono::steady_clock;
constexpr std::size_t most_output = 1U << 20U;

constexpr long long between_looks_ms = 50;

/// When to wait no longer.
struct Patience {
  Clock::time_point end;
  const std::atomic<bool>* cancel;

  /// Milliseconds until the next look; 0: it is over.
  [[nodiscard]] int next_wait() const {
    if (cancel != nullptr && cancel->load()) return 0;
    const auto left = std::chrono::ceil<std::chrono::milliseconds>(end - Clock::now()).count();
    return static_cast<int>(std::clamp<long long>(left, 0, between_looks_ms));
  }
};

/// Reads until the other end is closed; false if patience ends first.
bool read_all(int from, const Patience& patience, std::string& output) {
  std::array<char, 4096> buffer{};
  for (;;) {
    const int wait_ms = patience.next_wait();
    pollfd wait{.fd = from, .events = POLLIN, .revents = 0};
    if (wait_ms == 0) return false;
    if (poll(&wait, 1, wait_ms) <= 0) continue;
    const ssize_t count = read(from, buffer.data(), buffer.size());
    if (count <= 0) return true;
    if (output.size() < most_output) output.append(buffer.data(), static_cast<std::size_t>(count));
  }
}

/// Whether the child has ended; it is not let go yet, so that its number still means its group.
bool wait_for_end(pid_t child, const Patience& patience) {
  constexpr timespec little_while{0, 2'000'000};
  for (;;) {
    siginfo_t info{};
    if (waitid(P_PID, static_cast<id_t>(child), &info, WEXITED | WNOHANG | WNOWAIT) != 0 || info.si_pid != 0)
      return true;
    if (patience.next_wait() == 0) return false;
    nanosleep(&little_while, nullptr);
  }
}

/// A group of its own, and no signal ignored or blocked that this program ignores or blocks.
class Attributes {
 public:
  Attributes() {
    posix_spawnattr_init(&attributes_);
    sigset_t signals{};
    sigemptyset(&signals);
    posix_spawnattr_setsigmask(&attributes_, &signals);
    for (const int signal : {SIGPIPE, SIGXFSZ}) sigaddset(&signals, signal);
    posix_spawnattr_setsigdefault(&attributes_, &signals);
    posix_spawnattr_setpgroup(&attributes_, 0);
    posix_spawnattr_setflags(&attributes_,
                             POSIX_SPAWN_SETPGROUP | POSIX_SPAWN_SETSIGDEF | POSIX_SPAWN_SETSIGMASK);
  }
  Attributes(const Attributes&) = delete;
  Attributes& operator=(const Attributes&) = delete;
  ~Attributes() { posix_spawnattr_destroy(&attributes_); }
  [[nodiscard]] const posix_spawnattr_t* get() const { return &attributes_; }

 private:
  posix_spawnattr_t attributes_{};
};

}  // namespace

ChildAnswer run_child(const std::vector<std::string>& words, std::chrono::milliseconds timeout,
                      const std::atomic<bool>* cancel) {
  ChildAnswer answer;
  std::array<int, 2> ends{};
  if (words.empty() || pipe2(ends.data(), O_CLOEXEC) != 0) return answer;
  std::vector<char*> arguments;
  for (const std::string& word : words) arguments.push_back(const_cast<char*>(word.c_str()));
  arguments.push_back(nullptr);
  posix_spawn_file_actions_t actions{};
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_adddup2(&actions, ends[1], STDOUT_FILENO);
  posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
  pid_t child = 0;
  const Attributes attributes;
  answer.started =
      posix_spawnp(&child, arguments[0], &actions, attributes.get(), arguments.data(), environ) == 0;
  posix_spawn_file_actions_destroy(&actions);
  close(ends[1]);
  if (answer.started) {
    const Patience patience{Clock::now() + timeout, cancel};
    answer.in_time = read_all(ends[0], patience, answer.output) && wait_for_end(child, patience);
    kill(-child, SIGKILL);
    int status = 0;
    waitpid(child, &status, 0);
    answer.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    answer.started = answer.status != 127;
  }
  close(ends[0]);
  return answer;
}

}  // namespace detent::cli
