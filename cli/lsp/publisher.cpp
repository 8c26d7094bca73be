#include "cli/lsp/publisher.hpp"

#include <set>
#include <utility>

#include "cli/lsp/diagnostics.hpp"

namespace detent::cli::lsp {
namespace {

/// What two designs say of one part that both include is said once.
void without_repetitions(Json& diagnostics) {
  std::set<Json> seen;
  Json kept = Json::array();
  for (Json& one : diagnostics) {
    if (seen.insert(one).second) kept.push_back(std::move(one));
  }
  diagnostics = std::move(kept);
}

}  // namespace

void Publisher::send(const std::string& uri, const Json& diagnostics, const Json& version) {
  Json params{{"uri", uri}, {"diagnostics", diagnostics}};
  if (!version.is_null()) params["version"] = version;
  Json& last = sent_[uri];
  if (last == params) return;
  last = params;
  send_(notification("textDocument/publishDiagnostics", std::move(params)));
}

void Publisher::publish() {
  DiagnosticsByPath all;
  for (auto& [path, one] : workspace_.all()) {
    add_text_diagnostics(workspace_.analysed(one, client_.encoding), client_, all);
    if (one.report) add_verdicts(*one.design, *one.report, client_, all);
  }
  std::map<std::string, Json> gone = sent_;
  for (auto& [path, diagnostics] : all) {
    without_repetitions(diagnostics);
    const OpenDesign* one = workspace_.find(path);
    const std::string uri = client_.uri(path);
    send(uri, diagnostics, one == nullptr ? Json() : Json(one->document.version()));
    gone.erase(uri);
  }
  for (const auto& [uri, last] : gone) {
    if (!last["diagnostics"].empty()) send(uri, Json::array(), nullptr);
    sent_.erase(uri);
  }
}

}  // namespace detent::cli::lsp
