// The Language Server Protocol 3.17, from the bytes that a client sends to the messages that it gets.
// Everything happens in the thread that calls, but for proofs (prover.hpp); the times are those of the
// caller.
#pragma once

#include <chrono>
#include <deque>
#include <functional>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>

#include "cli/lsp/client.hpp"
#include "cli/lsp/framing.hpp"
#include "cli/lsp/proof_desk.hpp"
#include "cli/lsp/publisher.hpp"
#include "cli/lsp/server_options.hpp"
#include "cli/lsp/workspace.hpp"

namespace detent::cli::lsp {

using Clock = std::chrono::steady_clock;

class Server {
 public:
  Server(ServerOptions options, ServerLines lines);
  Server(const Server&) = delete;
  Server& operator=(const Server&) = delete;

  /// Bytes that came, as many as are there: requests that are cancelled further on in them are never begun.
  void feed(std::string_view bytes, Clock::time_point now);
  /// Does what is due, and tells what the prover has found.
  void attend(Clock::time_point now);
  /// When attend() is to be called if nothing else happens before.
  [[nodiscard]] std::optional<Clock::time_point> due() const { return due_; }

  /// Set once the client has said `exit`: 0 if it said `shutdown` before, else 1.
  [[nodiscard]] std::optional<int> exit_status() const { return exit_status_; }
  /// The same where the client's side has simply ended.
  [[nodiscard]] int status_at_end() const { return exit_status_.value_or(shut_down_ ? 0 : 1); }

 private:
  void handle(const Message& message, Clock::time_point now);
  void answer(const Message& message);
  void notice(const Message& message);
  void take_response(const Message& message);
  void find_cancelled(const std::deque<Message>& messages);

  // ---- lifecycle (server.cpp) ----
  Json initialize(const Json& params);

  // ---- texts (server_texts.cpp) ----
  void did_open(const Json& params);
  void did_change(const Json& params);
  void did_save(const Json& params);
  void did_close(const Json& params);
  void files_changed(const Json& params);
  void check_designs_with(const std::string& path);
  bool forget_outdated(const std::string& path);
  void look_at_disk();
  void lose(OpenDesign& one);
  void lose_all();
  void watch_files();
  void tell_verdicts();

  // ---- questions (server_questions.cpp) ----
  Json ask(const std::string& method, const Json& params);
  void execute(const Message& message);
  OpenDesign& named_document(const Json& params);

  ServerOptions options_;
  ServerLines lines_;
  Client client_;
  Framing framing_;
  Workspace workspace_;
  Publisher publisher_;
  ProofDesk desk_;
  bool initialized_ = false;
  bool shut_down_ = false;
  std::set<Json> cancelled_;  ///< requests that have come but are not begun
  std::optional<Clock::time_point> due_ = {};
  Clock::time_point now_ = {};
  std::optional<int> exit_status_ = {};
  std::int64_t next_request_ = 1;  ///< of ours whose answers say nothing
};

}  // namespace detent::cli::lsp
