// What any bytes do to the language server, in the fuzzer and in the ordinary tests: it may refuse, never
// crash or hang, and each request gets one answer. Proofs are off.
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <string_view>
#include <utility>

#include "cli/lsp/server.hpp"

namespace detent::fuzz {

class Overheard {
 public:
  Overheard() : server_({.prove = false, .disk = no_disk}, lines()) {
    send(cli::lsp::request(
        1, "initialize",
        {{"capabilities", {{"textDocument", {{"hover", {{"contentFormat", {"markdown"}}}}}}}}}));
    send(cli::lsp::notification("initialized", nullptr));
  }

  void send(const cli::lsp::Json& message) { feed(cli::lsp::framed(cli::lsp::text_of(message))); }
  void feed(std::string_view bytes) {
    now_ += std::chrono::seconds(1);
    server_.feed(bytes, now_);
    server_.attend(now_);
  }
  /// Answers to requests of ours with a number from 1'000'000'000 on, by that number.
  [[nodiscard]] const std::map<std::int64_t, int>& answers() const { return answers_; }

 private:
  static dsl::FileText no_disk(const std::string&) {
    return {.text = std::nullopt, .problem = "does not exist"};
  }
  cli::lsp::ServerLines lines() {
    return {.send =
                [this](const cli::lsp::Json& message) {
                  (void)cli::lsp::text_of(message);
                  const bool ours = !message.contains("method") && message["id"].is_number_integer();
                  if (ours && message["id"] >= 1'000'000'000) ++answers_[message["id"].get<std::int64_t>()];
                },
            .wake = [] {},
            .log = [](const std::string&) {}};
  }

  std::map<std::int64_t, int> answers_;
  cli::lsp::Clock::time_point now_ = {};
  cli::lsp::Server server_;
};

/// A body on each line, each framed as it should be.
inline void send_lines(Overheard& talk, std::string_view lines) {
  while (!lines.empty()) {
    const std::size_t end = lines.find('\n');
    talk.feed(cli::lsp::framed(lines.substr(0, end)));
    lines = end == std::string_view::npos ? "" : lines.substr(end + 1);
  }
}

/// The bytes as the text of a design, with every question about several of its places, and an edit.
inline bool ask_everything(Overheard& talk, std::string_view bytes) {
  using cli::lsp::Json;
  const std::string uri = "file:///fuzz.detent";
  talk.send(cli::lsp::notification(
      "textDocument/didOpen",
      {{"textDocument", {{"uri", uri}, {"version", 1}, {"text", std::string(bytes)}}}}));
  std::int64_t id = 1'000'000'000;
  const std::int64_t first = id;
  const Json document{{"uri", uri}};
  for (const char* method : {"documentSymbol", "inlayHint", "formatting"}) {
    talk.send(cli::lsp::request(id++, std::string("textDocument/") + method, {{"textDocument", document}}));
  }
  for (unsigned place = 0; place < 6; ++place) {
    const unsigned seed = bytes.empty() ? 0 : static_cast<unsigned char>(bytes[bytes.size() * place / 6]);
    const Json position{{"line", seed % 7 * place}, {"character", seed % 31}};
    for (const char* method : {"hover", "definition", "references", "documentHighlight", "prepareRename",
                               "rename", "completion"}) {
      talk.send(
          cli::lsp::request(id++, std::string("textDocument/") + method,
                            {{"textDocument", document}, {"position", position}, {"newName", "another"}}));
    }
    talk.send(cli::lsp::notification(
        "textDocument/didChange",
        {{"textDocument", {{"uri", uri}, {"version", 2 + place}}},
         {"contentChanges",
          {{{"range", {{"start", position}, {"end", position}}}, {"text", seed % 2 == 0 ? " x" : "\n"}}}}}));
  }
  for (std::int64_t each = first; each < id; ++each) {
    const auto found = talk.answers().find(each);
    if (found == talk.answers().end() || found->second != 1) return false;
  }
  return true;
}

/// The first promise that does not hold, or "".
inline std::string talk_over(std::string_view bytes) {
  if (bytes.empty()) return "";
  Overheard talk;
  const int how = static_cast<unsigned char>(bytes.front()) % 3;
  bytes.remove_prefix(1);
  if (how == 0) {
    talk.feed(bytes.substr(0, bytes.size() / 2));
    talk.feed(bytes.substr(bytes.size() / 2));
  } else if (how == 1) {
    send_lines(talk, bytes);
  } else if (!ask_everything(talk, bytes)) {
    return "a request without its one answer";
  }
  return "";
}

}  // namespace detent::fuzz
