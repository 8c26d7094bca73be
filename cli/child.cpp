#include "cli/child.hpp"

#include <fcntl.h>
#include <poll.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <csignal>

namespace detent::cli {
namespace {

using Clock = std::chrono::steady_clock;
constexpr std::size_t most_output = 1U << 20U;

/// Reads until the other end is closed; false if the time is over first.
bool read_all(int from, Clock::time_point end, std::string& output) {
  std::array<char, 4096> buffer{};
  for (;;) {
    const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(end - Clock::now()).count();
    pollfd wait{.fd = from, .events = POLLIN, .revents = 0};
    if (left <= 0 || poll(&wait, 1, static_cast<int>(std::min<long long>(left, 1'000'000))) < 0) return false;
    if (wait.revents == 0) continue;
    const ssize_t count = read(from, buffer.data(), buffer.size());
    if (count <= 0) return true;
    if (output.size() < most_output) output.append(buffer.data(), static_cast<std::size_t>(count));
  }
}

}  // namespace

ChildAnswer run_child(const std::vector<std::string>& words, std::chrono::milliseconds timeout) {
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
  answer.started = posix_spawnp(&child, arguments[0], &actions, nullptr, arguments.data(), environ) == 0;
  posix_spawn_file_actions_destroy(&actions);
  close(ends[1]);
  if (answer.started) {
    answer.in_time = read_all(ends[0], Clock::now() + timeout, answer.output);
    if (!answer.in_time) kill(child, SIGKILL);
    int status = 0;
    waitpid(child, &status, 0);
    answer.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    answer.started = answer.status != 127;
  }
  close(ends[0]);
  return answer;
}

}  // namespace detent::cli
