// How the server is limited, and whom it talks to.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "cli/lsp/message.hpp"
#include "cli/lsp/prover.hpp"
#include "dsl/load.hpp"

namespace detent::cli::lsp {

struct ServerOptions {
  ProofLimits limits = {};
  bool prove = true;          ///< false: nothing is ever proved, and no thread is made
  dsl::FileReader disk = {};  ///< reads what is not open in the editor
};

/// What the server calls. `wake` comes from another thread: attend() is then to be called soon.
struct ServerLines {
  std::function<void(const Json&)> send;
  std::function<void()> wake;
  std::function<void(const std::string&)> log;  ///< a fault of this program
};

}  // namespace detent::cli::lsp
