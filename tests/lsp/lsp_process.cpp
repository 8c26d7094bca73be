#include "tests/lsp/lsp_process.hpp"

#include <fcntl.h>
#include <poll.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <csignal>
#include <stdexcept>
#include <thread>

#include "cli/output.hpp"

namespace detent::test {

using cli::lsp::Json;
using Clock = std::chrono::steady_clock;

LspProcess::LspProcess(const std::vector<std::string>& options) {
  std::array<int, 2> in{};
  std::array<int, 2> out{};
  if (pipe2(in.data(), O_CLOEXEC) != 0 || pipe2(out.data(), O_CLOEXEC) != 0)
    throw std::runtime_error("no pipe");
  std::vector<std::string> words{DETENT_PROGRAM, "lsp"};
  words.insert(words.end(), options.begin(), options.end());
  std::vector<char*> arguments;
  for (std::string& word : words) arguments.push_back(word.data());
  arguments.push_back(nullptr);
  std::signal(SIGPIPE, SIG_IGN);
  child_ = fork();
  if (child_ == 0) {
    dup2(in[0], STDIN_FILENO);
    dup2(out[1], STDOUT_FILENO);
    execv(arguments[0], arguments.data());
    _exit(127);
  }
  close(in[0]);
  close(out[1]);
  to_child_ = in[1];
  from_child_ = out[0];
}

LspProcess::~LspProcess() {
  close_input();
  if (wait(std::chrono::seconds(5)) == -1) {
    kill(SIGKILL);
    wait();
  }
  close(from_child_);
}

void LspProcess::send(const Json& message) {
  send_bytes(cli::lsp::framed(cli::lsp::text_of(message)));
}

void LspProcess::send_bytes(const std::string& bytes) {
  static_cast<void>(cli::write_all(to_child_, bytes));  // it may have ended, which is what some tests look at
}

void LspProcess::close_input() {
  if (to_child_ >= 0) close(to_child_);
  to_child_ = -1;
}

void LspProcess::kill(int signal) const {
  if (status_ == -1) ::kill(child_, signal);
}

Json LspProcess::receive(const std::function<bool(const Json&)>& wanted, std::chrono::milliseconds limit) {
  const auto end = Clock::now() + limit;
  while (true) {
    while (auto frame = framing_.next()) {
      if (!frame->problem.empty())
        throw std::runtime_error("no protocol on standard output: " + frame->problem);
      Json message = Json::parse(frame->body);
      if (wanted(message)) return message;
    }
    const auto left = std::chrono::ceil<std::chrono::milliseconds>(end - Clock::now()).count();
    pollfd wait_for{.fd = from_child_, .events = POLLIN, .revents = 0};
    if (left <= 0 || poll(&wait_for, 1, static_cast<int>(left)) <= 0) return nullptr;
    std::array<char, 65536> block{};
    const ssize_t count = read(from_child_, block.data(), block.size());
    if (count <= 0) return nullptr;
    framing_.feed({block.data(), static_cast<std::size_t>(count)});
  }
}

int LspProcess::wait(std::chrono::milliseconds limit) {
  const auto end = Clock::now() + limit;
  while (status_ == -1) {
    int status = 0;
    if (waitpid(child_, &status, WNOHANG) == child_) {
      status_ = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    } else if (Clock::now() > end) {
      return -1;
    } else {
      std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
  }
  return status_;
}

}  // namespace detent::test
