#include "tests/lsp/talk.hpp"

#include <fmt/format.h>

#include "cli/reader.hpp"
#include "tests/support/catch.hpp"

namespace detent::test {

using cli::lsp::Encoding;
using cli::lsp::LineMap;

Json usual_capabilities() {
  return {{"general", {{"positionEncodings", {"utf-16"}}}},
          {"window", {{"workDoneProgress", true}}},
          {"workspace",
           {{"inlayHint", {{"refreshSupport", true}}},
            {"didChangeWatchedFiles", {{"dynamicRegistration", true}}}}},
          {"textDocument",
           {{"publishDiagnostics", {{"relatedInformation", true}, {"tagSupport", {{"valueSet", {1, 2}}}}}},
            {"hover", {{"contentFormat", {"markdown", "plaintext"}}}},
            {"inlayHint", Json::object()},
            {"documentSymbol", {{"hierarchicalDocumentSymbolSupport", true}}}}}};
}

Talk::Talk(TalkWishes wishes) : wishes_(std::move(wishes)) {
  server_ = std::make_unique<cli::lsp::Server>(
      cli::lsp::ServerOptions{.limits = {.timeout = wishes_.timeout, .memory_mib = {}, .jobs = 1},
                              .prove = wishes_.prove,
                              .disk =
                                  [this](const std::string& path) {
                                    const auto found = wishes_.files.find(path);
                                    if (found != wishes_.files.end())
                                      return dsl::FileText{.text = found->second};
                                    const bool shipped = path.starts_with(DETENT_SOURCE_DIR "/specs/");
                                    return shipped ? cli::file_reader("")(path)
                                                   : dsl::FileText{.text = std::nullopt};
                                  }},
      cli::lsp::ServerLines{.send = [this](const Json& message) { messages_.push_back(message); },
                            .wake =
                                [this] {
                                  const std::lock_guard lock(mutex_);
                                  bell_ = true;
                                  rung_.notify_all();
                                },
                            .log = [](const std::string& what) { FAIL("fault: " << what); }});
  if (!wishes_.initialize) return;
  result("initialize",
         {{"processId", nullptr}, {"rootUri", nullptr}, {"capabilities", wishes_.capabilities}});
  notify("initialized");
}

void Talk::feed(const std::string& bytes) {
  server_->feed(bytes, now_);
}

void Talk::notify(const std::string& method, Json params) {
  feed(cli::lsp::framed(cli::lsp::text_of(cli::lsp::notification(method, std::move(params)))));
}

std::int64_t Talk::send_request(const std::string& method, Json params) {
  feed(cli::lsp::framed(cli::lsp::text_of(cli::lsp::request(++last_id_, method, std::move(params)))));
  return last_id_;
}

Json Talk::ask(const std::string& method, Json params) {
  const std::size_t from = messages_.size();
  const std::int64_t id = send_request(method, std::move(params));
  return wait([id](const Json& message) { return !message.contains("method") && message["id"] == id; }, from);
}

Json Talk::result(const std::string& method, Json params) {
  const Json answer = ask(method, std::move(params));
  INFO(method << ": " << answer.dump());
  REQUIRE(answer.is_object());
  REQUIRE(answer.contains("result"));
  return answer["result"];
}

void Talk::open(const std::string& uri, const std::string& text, int version) {
  notify("textDocument/didOpen",
         {{"textDocument", {{"uri", uri}, {"languageId", "detent"}, {"version", version}, {"text", text}}}});
}

void Talk::change(const std::string& uri, const Json& changes, int version) {
  notify("textDocument/didChange",
         {{"textDocument", {{"uri", uri}, {"version", version}}}, {"contentChanges", changes}});
}

void Talk::save(const std::string& uri) {
  notify("textDocument/didSave", about(uri));
}

void Talk::close(const std::string& uri) {
  notify("textDocument/didClose", about(uri));
}

void Talk::let_pass(std::chrono::milliseconds time) {
  now_ += time;
  server_->attend(now_);
}

Json Talk::wait(const std::function<bool(const Json&)>& wanted, std::size_t from,
                std::chrono::milliseconds limit) {
  const auto end = std::chrono::steady_clock::now() + limit;
  while (true) {
    for (; from < messages_.size(); ++from) {
      if (wanted(messages_[from])) return messages_[from];
    }
    {
      std::unique_lock lock(mutex_);
      if (!rung_.wait_until(lock, end, [this] { return bell_; })) return nullptr;
      bell_ = false;
    }
    server_->attend(now_);
  }
}

Json Talk::diagnostics(const std::string& uri) const {
  Json last;
  for (const Json& message : messages_) {
    if (message.value("method", "") == "textDocument/publishDiagnostics" && message["params"]["uri"] == uri) {
      last = message["params"];
    }
  }
  return last.is_null() ? last : last["diagnostics"];
}

Json Talk::checked(const std::string& uri) {
  result("workspace/executeCommand", {{"command", "detent.check"}, {"arguments", {uri}}});
  let_pass(std::chrono::milliseconds(0));
  return diagnostics(uri);
}

Json about(const std::string& uri) {
  return {{"textDocument", {{"uri", uri}}}};
}

Json about(const std::string& uri, std::size_t line, std::size_t character) {
  Json json = about(uri);
  json["position"] = {{"line", line}, {"character", character}};
  return json;
}

Json about_word(const std::string& uri, const std::string& text, const std::string& word,
                std::size_t occurrence) {
  std::size_t at = text.find(word);
  for (; occurrence > 0 && at != std::string::npos; --occurrence) at = text.find(word, at + 1);
  INFO(word);
  REQUIRE(at != std::string::npos);
  const auto position = LineMap(text).position(text, at, Encoding::utf16);
  return about(uri, position.line, position.character);
}

std::string text_in(const std::string& text, const Json& range) {
  const LineMap lines(text);
  const std::size_t begin = lines.offset(text, cli::lsp::read_position(range["start"]), Encoding::utf16);
  const std::size_t end = lines.offset(text, cli::lsp::read_position(range["end"]), Encoding::utf16);
  return text.substr(begin, end - begin);
}

std::string endless_design() {
  constexpr int holes = 11;
  std::string text = "tick 20 ms\n";
  std::string somewhere;
  std::string alone;
  for (int pigeon = 0; pigeon <= holes; ++pigeon) {
    std::string one;
    for (int hole = 0; hole < holes; ++hole) {
      text += fmt::format("button p{}_{}\n", pigeon, hole);
      one += fmt::format("{}p{}_{}", hole == 0 ? "" : " or ", pigeon, hole);
      for (int other = 0; other < pigeon; ++other) {
        alone += fmt::format(" and not (p{}_{} and p{}_{})", pigeon, hole, other, hole);
      }
    }
    somewhere += fmt::format("{}({})", pigeon == 0 ? "" : " and ", one);
  }
  return text + "claim endless: never " + somewhere + alone + "\n";
}

}  // namespace detent::test
