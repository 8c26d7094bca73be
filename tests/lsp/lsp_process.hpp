// `detent lsp` as an editor starts it: a process with two pipes.
#pragma once

#include <sys/types.h>

#include <chrono>
#include <functional>
#include <string>
#include <vector>

#include "cli/lsp/framing.hpp"
#include "cli/lsp/message.hpp"

namespace detent::test {

class LspProcess {
 public:
  explicit LspProcess(const std::vector<std::string>& options = {});
  ~LspProcess();
  LspProcess(const LspProcess&) = delete;
  LspProcess& operator=(const LspProcess&) = delete;

  void send(const cli::lsp::Json& message);
  void send_bytes(const std::string& bytes);
  void close_input();
  void kill(int signal) const;
  /// The next message of which this is true; others are dropped. Null if none comes in time.
  cli::lsp::Json receive(const std::function<bool(const cli::lsp::Json&)>& wanted,
                         std::chrono::milliseconds limit = std::chrono::seconds(60));
  /// Exit status, or 128 + signal; -1 if it does not end in time.
  int wait(std::chrono::milliseconds limit = std::chrono::seconds(20));

 private:
  pid_t child_ = -1;
  int to_child_ = -1;
  int from_child_ = -1;
  int status_ = -1;
  cli::lsp::Framing framing_;
};

}  // namespace detent::test
