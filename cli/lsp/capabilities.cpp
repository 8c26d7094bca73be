#include "cli/lsp/capabilities.hpp"

#include <utility>

namespace detent::cli::lsp {

Json capabilities(const Client& client) {
  constexpr int incremental = 2;
  Json all{{"positionEncoding", client.encoding == Encoding::utf8 ? "utf-8" : "utf-16"},
           {"textDocumentSync",
            {{"openClose", true}, {"change", incremental}, {"save", {{"includeText", false}}}}},
           {"hoverProvider", true},
           {"definitionProvider", true},
           {"referencesProvider", true},
           {"documentHighlightProvider", true},
           {"documentSymbolProvider", true},
           {"documentFormattingProvider", true},
           {"renameProvider", {{"prepareProvider", true}}},
           {"inlayHintProvider", true},
           {"completionProvider", {{"triggerCharacters", {".", " ", "|"}}}},
           {"executeCommandProvider", {{"commands", {check_command}}, {"workDoneProgress", true}}}};
  return {{"capabilities", std::move(all)},
          {"serverInfo", {{"name", "detent"}, {"version", DETENT_VERSION}}}};
}

}  // namespace detent::cli::lsp
