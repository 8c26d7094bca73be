// Fork, exec, and one poll loop that feeds input, gathers output, and sends what signals the test wants.
#include "tests/support/process.hpp"

#include <fcntl.h>
#include <poll.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <stdexcept>

namespace detent::test {
namespace {

using Clock = std::chrono::steady_clock;
using std::chrono::milliseconds;

/// A file descriptor that closes itself.
class Stream {
 public:
  explicit Stream(int number = -1) : number_(number) {}
  Stream(const Stream&) = delete;
  Stream& operator=(const Stream&) = delete;
  Stream(Stream&& other) noexcept : number_(other.number_) { other.number_ = -1; }
  Stream& operator=(Stream&& other) noexcept {
    std::swap(number_, other.number_);
    return *this;
  }
  ~Stream() { reset(); }
  void reset() {
    if (number_ >= 0) close(number_);
    number_ = -1;
  }
  [[nodiscard]] int number() const { return number_; }
  [[nodiscard]] bool is_open() const { return number_ >= 0; }

 private:
  int number_;
};

struct Pipe {
  Stream reading;
  Stream writing;
};

Pipe make_pipe() {
  std::array<int, 2> ends{};
  if (pipe2(ends.data(), O_CLOEXEC) != 0) throw std::runtime_error("no pipe");
  return {Stream(ends[0]), Stream(ends[1])};
}

/// A pseudo-terminal: its near end for the test, its far end for the program.
Pipe make_terminal() {
  Stream near(posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC));
  if (!near.is_open() || grantpt(near.number()) != 0 || unlockpt(near.number()) != 0) {
    throw std::runtime_error("no pseudo-terminal");
  }
  Stream far(open(ptsname(near.number()), O_RDWR | O_NOCTTY | O_CLOEXEC));
  if (!far.is_open()) throw std::runtime_error("no far end of the pseudo-terminal");
  return {std::move(near), std::move(far)};
}

struct Channels {
  Pipe input, output, errors;
};

std::vector<char*> pointers(std::vector<std::string>& words) {
  std::vector<char*> all;
  for (std::string& word : words) all.push_back(word.data());
  all.push_back(nullptr);
  return all;
}

std::vector<std::string> environment_of(const ProcessWishes& wishes) {
  std::vector<std::string> lines{"PATH=/usr/local/bin:/usr/bin:/bin"};
  for (const auto& [name, value] : wishes.environment) lines.push_back(name + '=' + value);
  return lines;
}

[[noreturn]] void become(const Channels& channels, char* const* words, char* const* environment,
                         const ProcessWishes& wishes) {
  const int errors = wishes.on_terminal ? channels.output.writing.number() : channels.errors.writing.number();
  dup2(channels.input.reading.number(), STDIN_FILENO);
  dup2(channels.output.writing.number(), STDOUT_FILENO);
  dup2(errors, STDERR_FILENO);
  signal(SIGINT, SIG_DFL);
  signal(SIGPIPE, SIG_DFL);
  const bool moved = wishes.directory.empty() || chdir(wishes.directory.c_str()) == 0;
  if (moved) execve(words[0], words, environment);
  _exit(127);
}

/// A child process while it runs.
class Child {
 public:
  Child(Channels& channels, const std::vector<std::string>& words, const ProcessWishes& wishes)
      : channels_(channels), wishes_(wishes), start_(Clock::now()) {
    std::vector<std::string> own_words = words;
    std::vector<std::string> own_environment = environment_of(wishes);
    const std::vector<char*> word_pointers = pointers(own_words);
    const std::vector<char*> environment_pointers = pointers(own_environment);
    process_ = fork();
    if (process_ < 0) throw std::runtime_error("no process");
    if (process_ == 0) become(channels, word_pointers.data(), environment_pointers.data(), wishes);
    channels_.input.reading.reset();
    channels_.output.writing.reset();
    channels_.errors.writing.reset();
  }

  ProcessResult attend() {
    while (channels_.output.reading.is_open() || channels_.errors.reading.is_open()) {
      if (!attend_once()) return stop();
    }
    return wait();
  }

 private:
  /// False when the time is over.
  bool attend_once() {
    constexpr int pause_ms = 20;
    feed();
    std::array<pollfd, 2> watched{
        {{channels_.output.reading.number(), POLLIN, 0}, {channels_.errors.reading.number(), POLLIN, 0}}};
    poll(watched.data(), watched.size(), pause_ms);
    if (watched[0].revents != 0) gather(channels_.output.reading, result_.output);
    if (watched[1].revents != 0) gather(channels_.errors.reading, result_.errors);
    send_signals();
    return Clock::now() - start_ < wishes_.limit;
  }

  void feed() {
    if (!channels_.input.writing.is_open()) return;
    const std::string& input = wishes_.input;
    pollfd ready{channels_.input.writing.number(), POLLOUT, 0};
    while (fed_ < input.size() && poll(&ready, 1, 0) == 1) {
      constexpr std::size_t block = 4096;
      const std::size_t count = std::min(block, input.size() - fed_);
      const ssize_t written = write(channels_.input.writing.number(), input.data() + fed_, count);
      if (written < 0) fed_ = input.size();
      if (written > 0) fed_ += static_cast<std::size_t>(written);
    }
    if (fed_ == input.size()) channels_.input.writing.reset();
  }

  static void gather(Stream& stream, std::string& text) {
    std::array<char, 4096> block{};
    const ssize_t count = read(stream.number(), block.data(), block.size());
    if (count > 0) {
      text.append(block.data(), static_cast<std::size_t>(count));
    } else if (count == 0 || errno != EINTR) {
      stream.reset();  // a pseudo-terminal whose far end is closed answers with an error
    }
  }

  void send_signals() {
    const auto age = Clock::now() - start_;
    if (wishes_.interrupt_after && sent_ == 0 && age >= *wishes_.interrupt_after) send_one();
    if (wishes_.interrupt_again && sent_ == 1 && Clock::now() - last_sent_ >= *wishes_.interrupt_again)
      send_one();
  }

  void send_one() {
    kill(process_, SIGINT);
    last_sent_ = Clock::now();
    ++sent_;
  }

  ProcessResult stop() {
    kill(process_, SIGKILL);
    wait();
    result_.status = -1;
    return result_;
  }

  ProcessResult wait() {
    int status = 0;
    while (waitpid(process_, &status, 0) < 0 && errno == EINTR) {
    }
    result_.status = WIFSIGNALED(status) ? 128 + WTERMSIG(status) : WEXITSTATUS(status);
    return result_;
  }

  Channels& channels_;
  const ProcessWishes& wishes_;
  Clock::time_point start_;
  Clock::time_point last_sent_;
  pid_t process_ = -1;
  std::size_t fed_ = 0;
  int sent_ = 0;
  ProcessResult result_;
};

}  // namespace

ProcessResult run_process(const std::vector<std::string>& words, const ProcessWishes& wishes) {
  signal(SIGPIPE, SIG_IGN);  // a program that does not read its input is no reason to die
  Channels channels{make_pipe(), wishes.on_terminal ? make_terminal() : make_pipe(), make_pipe()};
  return Child(channels, words, wishes).attend();
}

ProcessResult run_detent(const std::vector<std::string>& arguments, const ProcessWishes& wishes) {
  std::vector<std::string> words{DETENT_PROGRAM};
  words.insert(words.end(), arguments.begin(), arguments.end());
  return run_process(words, wishes);
}

ProcessResult run_shell(const std::string& line, ProcessWishes wishes) {
  wishes.environment.emplace_back("DETENT", DETENT_PROGRAM);
  return run_process({"/bin/sh", "-c", line}, wishes);
}

}  // namespace detent::test
