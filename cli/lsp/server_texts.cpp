// Texts that come, change and go. Diagnostics follow a change after a moment, but a verdict goes with the
// first keystroke.
#include <algorithm>

#include "cli/lsp/server.hpp"
#include "cli/lsp/uri.hpp"

namespace detent::cli::lsp {
namespace {

/// Diagnostics wait so long for the next keystroke to be looked at together with this one.
constexpr std::chrono::milliseconds pause{150};

const std::string& uri_member(const Json& params) {
  return text_member(member(params, "textDocument"), "uri");
}

std::int64_t version_of(const Json& document) {
  const Json version = document.is_object() ? document.value("version", Json()) : Json();
  return version.is_number_integer() ? version.get<std::int64_t>() : 0;
}

}  // namespace

OpenDesign& Server::named_document(const Json& params) {
  OpenDesign* one = workspace_.find(path_of(uri_member(params)));
  if (one == nullptr)
    throw RequestError(ErrorCode::invalid_params, "this text is not open: " + uri_member(params));
  return *one;
}

/// True if any verdict was lost by it.
bool Server::forget_outdated(const std::string& path) {
  bool verdicts = false;
  for (OpenDesign* one : workspace_.outdated_by(path)) {
    verdicts = verdicts || one->report || one->ticket != 0;
    desk_.forget(*one);
  }
  return verdicts;
}

/// Whatever shows a verdict asks for this first. What is found so is checked again.
void Server::look_at_disk() {
  const std::vector<OpenDesign*> outdated = workspace_.outdated();
  for (OpenDesign* one : outdated) desk_.forget(*one);
  for (OpenDesign* one : outdated) desk_.begin(*one);
  if (!outdated.empty()) tell_verdicts();
}

/// Asks the client to tell of files that change beside it.
void Server::watch_files() {
  if (!client_.watches_files) return;
  lines_.send(request(next_request_++, "client/registerCapability",
                      {{"registrations",
                        {{{"id", "detent-files"},
                          {"method", "workspace/didChangeWatchedFiles"},
                          {"registerOptions", {{"watchers", {{{"globPattern", "**/*.detent"}}}}}}}}}}));
}

void Server::check_designs_with(const std::string& path) {
  for (OpenDesign* one : workspace_.designs_with(path, client_.encoding)) desk_.begin(*one);
}

void Server::tell_verdicts() {
  publisher_.publish();
  if (client_.inlay_refresh) {
    lines_.send(request(next_request_++, "workspace/inlayHint/refresh", nullptr));
  }
}

void Server::did_open(const Json& params) {
  const Json& item = member(params, "textDocument");
  Document document(text_member(item, "uri"), text_member(item, "text"), version_of(item));
  const std::string path = document.path();
  if (OpenDesign* before = workspace_.find(path)) desk_.forget(*before);
  workspace_.open(std::move(document), client_.encoding);
  forget_outdated(path);
  look_at_disk();
  check_designs_with(path);
  publisher_.publish();
}

void Server::did_change(const Json& params) {
  OpenDesign& one = named_document(params);
  try {
    one.document.change(member(params, "contentChanges"), version_of(member(params, "textDocument")),
                        client_.encoding);
  } catch (const std::exception&) {
    lose(one);
    throw;
  }
  if (forget_outdated(one.document.path())) {
    due_.reset();
    tell_verdicts();
  } else if (!due_) {
    due_ = now_ + pause;
  }
}

/// What the editor holds is not known any more, so nothing is claimed of it until it comes whole.
void Server::lose(OpenDesign& one) {
  one.document.lose();
  const std::string path = one.document.path();
  for (OpenDesign* design : workspace_.designs_with(path, client_.encoding)) desk_.forget(*design);
  tell_verdicts();
  lines_.send(notification("window/showMessage", {{"type", 2},
                                                  {"message", "detent could not follow a change of " + path +
                                                                  ": close it and open it again"}}));
}

/// A message that could not be read may have been a change of any of them.
void Server::lose_all() {
  for (auto& [path, one] : workspace_.all()) {
    if (!one.document.is_lost()) lose(one);
  }
}

void Server::did_save(const Json& params) {
  const std::string path = named_document(params).document.path();
  due_.reset();
  look_at_disk();
  check_designs_with(path);
  publisher_.publish();
}

void Server::did_close(const Json& params) {
  OpenDesign& one = named_document(params);
  const std::string path = one.document.path();
  desk_.forget(one);
  workspace_.close(path);
  forget_outdated(path);  // others read it from the disk now
  publisher_.publish();
}

void Server::files_changed(const Json& params) {
  static_cast<void>(member(params, "changes"));
  look_at_disk();  // whatever they are called: a path may lead there by another name
  publisher_.publish();
}

}  // namespace detent::cli::lsp
