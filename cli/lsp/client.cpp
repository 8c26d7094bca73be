#include "cli/lsp/client.hpp"

namespace detent::cli::lsp {

Client read_client(const Json& initialize) {
  const Json all = initialize.is_object() ? initialize.value("capabilities", Json::object()) : Json::object();
  Client client;
  if (lists(all, "/general/positionEncodings", "utf-8")) client.encoding = Encoding::utf8;
  client.related = says_yes(all, "/textDocument/publishDiagnostics/relatedInformation");
  client.unnecessary_tag = has(all, "/textDocument/publishDiagnostics/tagSupport");
  client.markdown = lists(all, "/textDocument/hover/contentFormat", "markdown");
  client.nested_symbols = says_yes(all, "/textDocument/documentSymbol/hierarchicalDocumentSymbolSupport");
  client.progress = says_yes(all, "/window/workDoneProgress");
  client.inlay_hints = has(all, "/textDocument/inlayHint");
  client.inlay_refresh = says_yes(all, "/workspace/inlayHint/refreshSupport");
  client.rename_defaults = has(all, "/textDocument/rename/prepareSupportDefaultBehavior");
  client.watches_files = says_yes(all, "/workspace/didChangeWatchedFiles/dynamicRegistration");
  return client;
}

}  // namespace detent::cli::lsp
