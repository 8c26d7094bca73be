// Lifecycle and errors, by the numbers that LSP 3.17 and JSON-RPC 2.0 give them (both read).
#include "tests/lsp/talk.hpp"
#include "tests/support/catch.hpp"

namespace detent::test {
namespace {

constexpr const char* uri = "file:///boat.detent";

int code_of(const Json& answer) {
  INFO(cli::lsp::text_of(answer));
  REQUIRE(answer.contains("error"));
  CHECK(answer["error"]["message"].is_string());
  return answer["error"]["code"].get<int>();
}

/// The answer to this body, sent as it is.
Json answer_to(Talk& talk, const std::string& body) {
  const std::size_t before = talk.messages().size();
  talk.feed(cli::lsp::framed(body));
  INFO(body);
  REQUIRE(talk.messages().size() == before + 1);
  return talk.messages().back();
}

}  // namespace

TEST_CASE("nothing but initialize is answered before it", "[lsp]") {
  Talk talk({.prove = false, .initialize = false});
  CHECK(code_of(talk.ask("textDocument/hover", about(uri, 0, 0))) == -32002);
  CHECK(code_of(talk.ask("shutdown")) == -32002);
  CHECK(code_of(talk.ask("no/such")) == -32002);
  talk.open(uri, "tick 20 ms");  // dropped
  talk.let_pass(std::chrono::seconds(1));
  CHECK(talk.diagnostics(uri).is_null());
  talk.result("initialize", {{"capabilities", Json::object()}});
  CHECK(code_of(talk.ask("textDocument/hover", about(uri, 0, 0))) == -32602);  // it is not open
  CHECK(code_of(talk.ask("initialize", {{"capabilities", Json::object()}})) == -32600);
}

TEST_CASE("initialize without anything in it will do", "[lsp]") {
  for (const Json& params :
       {Json(nullptr), Json::object(), Json(3), Json{{"capabilities", 5}}, Json::array()}) {
    Talk talk({.prove = false, .initialize = false});
    const Json result = talk.result("initialize", params);
    CHECK(result["capabilities"]["positionEncoding"] == "utf-16");
    CHECK(result["serverInfo"]["name"] == "detent");
  }
}

TEST_CASE("utf-8 is spoken where the client can", "[lsp]") {
  Talk talk({.prove = false,
             .capabilities = {{"general", {{"positionEncodings", {"utf-16", "utf-8"}}}}},
             .initialize = false});
  const Json result = talk.result(
      "initialize", {{"capabilities", {{"general", {{"positionEncodings", {"utf-16", "utf-8"}}}}}}});
  CHECK(result["capabilities"]["positionEncoding"] == "utf-8");
  const std::string text =
      "// \xf0\x9f\x9a\xa4\ntick 20 ms\nbutton b \"\xf0\x9f\x9a\xa4\"  signal s = b\noutput o = s";
  talk.open(uri, text);
  const Json range = talk.result("textDocument/prepareRename", about(uri, 2, 24))["range"];
  CHECK(range["start"]["character"] == 24);  // 9 letters, quote, four bytes, quote …
}

TEST_CASE("every broken message has its number", "[lsp]") {
  Talk talk({.prove = false});
  CHECK(code_of(answer_to(talk, "{")) == -32700);
  CHECK(code_of(answer_to(talk, "")) == -32700);
  CHECK(code_of(answer_to(talk, "\xff\xfe")) == -32700);
  CHECK(code_of(answer_to(talk, "{\"jsonrpc\":\"2.0\",\"id\":1,\"method\":\"\xff\"}")) == -32700);
  CHECK(code_of(answer_to(talk, std::string(5'000, '[') + std::string(5'000, ']'))) == -32700);
  CHECK(code_of(answer_to(talk, "[]")) == -32600);
  CHECK(code_of(answer_to(talk, "3")) == -32600);
  CHECK(code_of(answer_to(talk, R"({"id":1,"method":"shutdown"})")) == -32600);
  CHECK(code_of(answer_to(talk, R"({"jsonrpc":"1.0","id":1,"method":"shutdown"})")) == -32600);
  CHECK(code_of(answer_to(talk, R"({"jsonrpc":"2.0","id":[1],"method":"shutdown"})")) == -32600);
  CHECK(code_of(answer_to(talk, R"({"jsonrpc":"2.0","id":null,"method":"shutdown"})")) == -32600);
  CHECK(code_of(answer_to(talk, R"({"jsonrpc":"2.0","id":1.5,"method":"shutdown"})")) == -32600);
  CHECK(code_of(answer_to(talk, R"({"jsonrpc":"2.0","id":1,"method":7})")) == -32600);
  CHECK(code_of(answer_to(talk, R"({"jsonrpc":"2.0","id":1})")) == -32600);
  CHECK(code_of(answer_to(talk, R"({"jsonrpc":"2.0","id":"a","method":"no/such"})")) == -32601);
  CHECK(talk.messages().back()["id"] == "a");
  CHECK(code_of(answer_to(talk, R"({"jsonrpc":"2.0","id":2,"method":"$/no/such"})")) == -32601);
  CHECK(code_of(answer_to(talk, R"({"jsonrpc":"2.0","id":2,"method":"textDocument/hover"})")) == -32602);
}

TEST_CASE("what a request lacks is named", "[lsp]") {
  Talk talk({.prove = false});
  talk.open(uri, "tick 20 ms\nbutton b\noutput o = b");
  const std::vector<Json> bad{
      nullptr,
      Json::array({1}),
      Json::object(),
      {{"textDocument", 3}, {"position", 4}},
      {{"textDocument", {{"uri", 5}}}},
      {{"textDocument", {{"uri", uri}}}, {"position", {{"line", -1}, {"character", 0}}}},
      {{"textDocument", {{"uri", uri}}}, {"position", {{"line", "x"}, {"character", 0}}}},
      {{"textDocument", {{"uri", uri}}}, {"position", {{"line", 1.5}, {"character", 0}}}},
      {{"textDocument", {{"uri", "file:///other"}}}, {"position", {{"line", 0}, {"character", 0}}}}};
  for (const char* method :
       {"hover", "definition", "references", "documentHighlight", "prepareRename", "rename", "completion"}) {
    for (const Json& params : bad) {
      INFO(method << " " << params.dump());
      CHECK(code_of(talk.ask(std::string("textDocument/") + method, params)) == -32602);
    }
    // Far behind the end is the end.
    if (std::string(method) != "rename")
      talk.ask(std::string("textDocument/") + method, about(uri, 4'000'000'000, 99));
  }
  CHECK(code_of(talk.ask("workspace/executeCommand", {{"command", "x"}})) == -32602);
  CHECK(code_of(talk.ask("workspace/executeCommand", {{"command", "detent.check"}})) == -32602);
  CHECK(code_of(talk.ask("workspace/executeCommand",
                         {{"command", "detent.check"}, {"arguments", {"file:///x"}}})) == -32602);
}

TEST_CASE("notifications that are wrong or unknown harm nothing, and are told in the log", "[lsp]") {
  Talk talk({.prove = false});
  const std::size_t before = talk.messages().size();
  talk.notify("$/setTrace", {{"value", "verbose"}});
  talk.notify("no/such");
  CHECK(talk.messages().size() == before);
  talk.notify("textDocument/didOpen");
  talk.notify("textDocument/didChange",
              {{"textDocument", {{"uri", uri}, {"version", 2}}}, {"contentChanges", 4}});
  talk.notify("textDocument/didSave", about(uri));
  talk.notify("textDocument/didClose", about(uri));
  talk.notify("$/cancelRequest");
  CHECK(talk.messages().size() == before + 5);
  CHECK(talk.messages().back()["method"] == "window/logMessage");
}

TEST_CASE("a change that is no change leaves the text as it was", "[lsp]") {
  Talk talk({.prove = false});
  talk.open(uri, "tick 20 ms\nbutton b\noutput o = b");
  talk.change(uri, Json::array({{{"text", "gone"}}, {{"range", 5}, {"text", "x"}}}), 2);
  CHECK(talk.messages().back()["method"] == "window/logMessage");
  CHECK(talk.result("textDocument/documentSymbol", about(uri)).size() == 2);
}

TEST_CASE("shutdown and exit", "[lsp]") {
  Talk talk({.prove = false});
  CHECK(talk.server().status_at_end() == 1);
  CHECK(talk.result("shutdown").is_null());
  CHECK(code_of(talk.ask("textDocument/hover", about(uri, 0, 0))) == -32600);
  CHECK(talk.server().status_at_end() == 0);
  CHECK(!talk.server().exit_status());
  talk.notify("exit");
  CHECK(talk.server().exit_status() == 0);

  Talk hasty({.prove = false});
  hasty.notify("exit");
  CHECK(hasty.server().exit_status() == 1);
  Talk early({.prove = false, .initialize = false});
  early.notify("exit");
  CHECK(early.server().exit_status() == 1);
}

TEST_CASE("what is cancelled in the same breath is not begun", "[lsp]") {
  Talk talk({.prove = false});
  talk.open(uri, "tick 20 ms\nbutton b\noutput o = b");
  const auto framed = [](const Json& json) { return cli::lsp::framed(cli::lsp::text_of(json)); };
  const std::size_t before = talk.messages().size();
  talk.feed(framed(cli::lsp::request(70, "textDocument/documentSymbol", about(uri))) +
            framed(cli::lsp::request(71, "textDocument/documentSymbol", about(uri))) +
            framed(cli::lsp::notification("$/cancelRequest", {{"id", 70}})));
  REQUIRE(talk.messages().size() == before + 2);
  CHECK(code_of(talk.messages()[before]) == -32800);
  CHECK(talk.messages()[before + 1]["result"].size() == 2);
  talk.notify("$/cancelRequest", {{"id", 70}});  // long answered
  CHECK(talk.messages().size() == before + 2);
}

// ECMA-262 has JSON.stringify write half of a surrogate pair as an escape, which is no text in UTF-8.
TEST_CASE("half a pair of escapes is one character that nobody knows", "[lsp]") {
  Talk talk({.prove = false});
  const auto open = [&](const std::string& escapes, int version) {
    talk.feed(cli::lsp::framed(
        R"({"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":")" +
        std::string(uri) + R"(","languageId":"detent","version":)" + std::to_string(version) +
        R"(,"text":"tick 20 ms\nbutton b \")" + escapes + R"(\"\noutput o = b"}}})"));
  };
  for (const char* escapes : {R"(\ud800)", R"(\udc00)", R"(\ud800\ud83d\ude00)", R"(\uD800x\uDBFF)",
                              R"(\\ud800)", R"(\ud83d\ude00)", R"(\u00e4\ud800)"}) {
    INFO(escapes);
    open(escapes, 1);
    CHECK(talk.messages().back().value("method", "") == "textDocument/publishDiagnostics");
    CHECK(talk.result("textDocument/documentSymbol", about(uri)).size() == 2);
    talk.close(uri);
  }
}

TEST_CASE("after a message that can't be read nothing is claimed of a text until it comes whole", "[lsp]") {
  Talk talk;
  talk.open(uri, "tick 20 ms\nbutton b\nclaim can: possible b\n");
  talk.checked(uri);
  REQUIRE(talk.result("textDocument/hover", about(uri, 2, 7)).dump().find("shown") != std::string::npos);
  talk.feed(cli::lsp::framed("{"));  // it may have been a change
  talk.save(uri);
  CHECK(talk.result("textDocument/hover", about(uri, 2, 7)).dump().find("shown") == std::string::npos);
  talk.change(uri, Json::array({{{"text", "tick 20 ms\nbutton b\nclaim can: possible b\n\n"}}}), 2);
  talk.save(uri);
  talk.checked(uri);
  CHECK(talk.result("textDocument/hover", about(uri, 2, 7)).dump().find("shown") != std::string::npos);
}

TEST_CASE("garbage in, and the server goes on", "[lsp]") {
  Talk talk({.prove = false});
  talk.feed("Content-Length: 5\r\n\r\nhello garbage Content-Length: zwei\r\n\r\n");
  CHECK(talk.messages().back()["error"]["code"] == -32700);
  talk.open(uri, "tick 20 ms\nbutton b\noutput o = b");
  CHECK(talk.result("textDocument/documentSymbol", about(uri)).size() == 2);
}

}  // namespace detent::test
