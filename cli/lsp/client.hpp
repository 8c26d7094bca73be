// What the client at the other end can do, and what its files are called.
#pragma once

#include <functional>
#include <string>

#include "cli/lsp/line_map.hpp"

namespace detent::cli::lsp {

struct Client {
  Encoding encoding = Encoding::utf16;
  bool related = false;          ///< places beside a diagnostic's own
  bool unnecessary_tag = false;  ///< diagnostics that say that something is not needed
  bool markdown = false;         ///< in hovers
  bool nested_symbols = false;
  bool progress = false;  ///< shows what goes on without having been asked for
  bool inlay_hints = false;
  bool inlay_refresh = false;  ///< asks again for inlay hints when told to
  bool rename_defaults = false;
  bool watches_files = false;  ///< tells of files that change beside it, if asked to
  /// The URI of a path, as the client spells it if the file is open.
  std::function<std::string(const std::string& path)> uri;
};

/// By what a client says in `initialize`. `uri` is left empty.
[[nodiscard]] Client read_client(const Json& initialize);

}  // namespace detent::cli::lsp
