// Who has asked for verdicts, how far they are, and to whom that is told. A verdict is of one text only: as
// soon as that has changed, what is proved of it is of no use, and what goes on is stopped.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "cli/lsp/client.hpp"
#include "cli/lsp/server_options.hpp"
#include "cli/lsp/workspace.hpp"

namespace detent::cli::lsp {

class ProofDesk {
 public:
  ProofDesk(const ServerOptions& options, const ServerLines& lines, const Client& client,
            Workspace& workspace);

  /// Begins to check a design unless that is done, goes on already, or the text has errors. One whose check
  /// was stopped is checked again.
  void begin(OpenDesign& one);
  /// The design has changed or is closed: its verdicts go, and who waits for them is told so.
  void forget(OpenDesign& one);
  /// A request that is answered when the verdicts are there. `token`: where progress is told; null for
  /// nowhere.
  void answer_when_done(OpenDesign& one, const Json& id, const Json& token);

  /// Whether it was such a request that waits; it is answered.
  bool cancel_request(const Json& id);
  /// The user has stopped what is shown under this token.
  void cancel_progress(const Json& token);
  /// The client's answer to a request of ours; false if it was none of these.
  bool take_response(std::int64_t id, bool failed);

  /// Takes what the prover has found. Whether there are new verdicts.
  bool take_news();

 private:
  struct Token {
    Json name;
    bool begun = false;
    bool ours = false;  ///< made by us, and not by the request that waits
  };
  /// A proof that goes on.
  struct Going {
    std::string path;  ///< of the design's main file
    std::size_t claims = 0;
    std::size_t questions = 0;       ///< as far as is known, how many there were
    std::vector<Json> waiting = {};  ///< ids of requests
    std::vector<Token> tokens = {};
    bool asked_by_request = false;
  };

  void show_progress(Ticket ticket, Going& going);
  void tell_begin(Going& going, Token& token);
  void tell_progress(Going& going, std::size_t open);
  void tell_end(Going& going);
  bool finish(ProofNews& news, Going& going);
  void send_progress(const Token& token, Json value);

  const ServerOptions& options_;
  const ServerLines& lines_;
  const Client& client_;
  Workspace& workspace_;
  std::map<Ticket, Going> going_;
  std::map<std::int64_t, Ticket> creating_;  ///< tokens that the client has not agreed to yet, by our request
  Ticket last_ticket_ = 0;
  std::unique_ptr<Prover> prover_;  // last: it is stopped first
};

/// What `detent check --format json` would print of it.
[[nodiscard]] Json check_json(const OpenDesign& one);

}  // namespace detent::cli::lsp
