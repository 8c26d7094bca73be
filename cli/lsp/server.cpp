// Lifecycle and errors as LSP 3.17 and JSON-RPC 2.0 lay them down; what the methods do stands beside this
// file.
#include "cli/lsp/server.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <exception>
#include <new>
#include <utility>

#include "cli/lsp/capabilities.hpp"
#include "cli/lsp/uri.hpp"

namespace detent::cli::lsp {
namespace {

bool is_request(const Message& message) {
  return !message.method.empty() && !message.id.is_null();
}

}  // namespace

Server::Server(ServerOptions options, ServerLines lines)
    : options_(std::move(options)),
      lines_(std::move(lines)),
      workspace_(options_.disk),
      publisher_(lines_.send, client_, workspace_),
      desk_(options_, lines_, client_, workspace_) {}

void Server::feed(std::string_view bytes, Clock::time_point now) {
  framing_.feed(bytes);
  std::deque<Message> messages;
  while (auto frame = framing_.next()) {
    if (!frame->problem.empty()) {
      lines_.send(error_response(nullptr, ErrorCode::parse_error, frame->problem));
      lose_all();
      continue;
    }
    auto read = read_message(frame->body);
    if (auto* problem = std::get_if<Json>(&read)) {
      lines_.send(*problem);
      lose_all();
    } else {
      messages.push_back(std::move(std::get<Message>(read)));
    }
  }
  find_cancelled(messages);
  for (const Message& message : messages) {
    if (!exit_status_) handle(message, now);
  }
  cancelled_.clear();
}

/// What is cancelled only later in the same bytes need not be begun.
void Server::find_cancelled(const std::deque<Message>& messages) {
  std::set<Json> open;
  for (const Message& message : messages) {
    if (is_request(message)) open.insert(message.id);
    if (message.method != "$/cancelRequest" || !message.params.is_object()) continue;
    const Json id = message.params.value("id", Json());
    if (open.erase(id) > 0) cancelled_.insert(id);
  }
}

void Server::handle(const Message& message, Clock::time_point now) {
  now_ = now;
  if (message.method.empty()) {
    take_response(message);
  } else if (message.id.is_null()) {
    notice(message);
  } else if (cancelled_.erase(message.id) > 0) {
    lines_.send(error_response(message.id, ErrorCode::cancelled, "cancelled"));
  } else {
    answer(message);
  }
}

void Server::take_response(const Message& message) {
  if (message.id.is_number_integer()) desk_.take_response(message.id.get<std::int64_t>(), message.failed);
}

void Server::answer(const Message& message) {
  try {
    if (message.method == "initialize") {
      if (initialized_) throw RequestError(ErrorCode::invalid_request, "the server is initialized already");
      return lines_.send(response(message.id, initialize(message.params)));
    }
    if (!initialized_) throw RequestError(ErrorCode::not_initialized, "\"initialize\" comes first");
    if (shut_down_) throw RequestError(ErrorCode::invalid_request, "the server is shut down");
    if (message.method == "shutdown") {
      shut_down_ = true;
      for (auto& [path, one] : workspace_.all()) desk_.forget(one);
      return lines_.send(response(message.id, nullptr));
    }
    if (message.method == "workspace/executeCommand") return execute(message);
    lines_.send(response(message.id, ask(message.method, message.params)));
  } catch (const RequestError& error) {
    lines_.send(error_response(message.id, error.code, error.what()));
  } catch (const Json::exception& error) {
    lines_.send(error_response(message.id, ErrorCode::invalid_params, error.what()));
  } catch (const std::bad_alloc&) {
    lines_.send(error_response(message.id, ErrorCode::internal_error, "there is not enough memory"));
  } catch (const std::exception& error) {
    lines_.log(fmt::format("{}: {}", message.method, error.what()));
    lines_.send(error_response(message.id, ErrorCode::internal_error, error.what()));
  }
}

Json Server::initialize(const Json& params) {
  client_ = read_client(params);
  client_.uri = [this](const std::string& path) {
    const OpenDesign* one = workspace_.find(path);
    return one == nullptr ? uri_of(path) : one->document.uri();
  };
  initialized_ = true;
  return capabilities(client_);
}

void Server::notice(const Message& message) {
  if (message.method == "exit") {
    exit_status_ = shut_down_ ? 0 : 1;
    return;
  }
  if (!initialized_ || shut_down_) return;
  const Json& params = message.params;
  try {
    if (message.method == "initialized") {
      watch_files();
    } else if (message.method == "$/cancelRequest") {
      static_cast<void>(desk_.cancel_request(member(params, "id")));
    } else if (message.method == "window/workDoneProgress/cancel") {
      desk_.cancel_progress(member(params, "token"));
    } else if (message.method == "textDocument/didOpen") {
      did_open(params);
    } else if (message.method == "textDocument/didChange") {
      did_change(params);
    } else if (message.method == "textDocument/didSave") {
      did_save(params);
    } else if (message.method == "textDocument/didClose") {
      did_close(params);
    } else if (message.method == "workspace/didChangeWatchedFiles") {
      files_changed(params);
    }
  } catch (const std::exception& error) {
    // Nobody waits for an answer, but what the client and we have in mind may no longer be the same text.
    lines_.send(
        notification("window/logMessage",
                     {{"type", 1}, {"message", fmt::format("{}: {}", message.method, error.what())}}));
  }
}

void Server::attend(Clock::time_point now) {
  now_ = now;
  if (desk_.take_news()) tell_verdicts();
  if (due_ && *due_ <= now && !shut_down_) {
    due_.reset();
    publisher_.publish();
  }
}

}  // namespace detent::cli::lsp
