// Diagnostics on their way to the client: those of all open designs together, file by file, and only what is
// new.
#pragma once

#include <functional>
#include <map>
#include <string>

#include "cli/lsp/client.hpp"
#include "cli/lsp/workspace.hpp"

namespace detent::cli::lsp {

class Publisher {
 public:
  Publisher(std::function<void(const Json&)> send, const Client& client, Workspace& workspace)
      : send_(std::move(send)), client_(client), workspace_(workspace) {}

  /// Sends `publishDiagnostics` for each file whose diagnostics or version differ from what was sent last.
  void publish();

 private:
  void send(const std::string& uri, const Json& diagnostics, const Json& version);

  std::function<void(const Json&)> send_;
  const Client& client_;
  Workspace& workspace_;
  std::map<std::string, Json> sent_;  ///< by URI, what was said last; none for an empty list of a closed file
};

}  // namespace detent::cli::lsp
