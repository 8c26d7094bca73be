// Proofs that go on: progress, and how soon they end.
#include <algorithm>

#include "tests/lsp/talk.hpp"
#include "tests/support/catch.hpp"

namespace detent::test {
namespace {

constexpr const char* uri = "file:///boat.detent";
using std::chrono::milliseconds;

bool has_code(const Json& all, const std::string& code) {
  return std::any_of(all.begin(), all.end(), [&](const Json& one) { return one["code"] == code; });
}

bool is_about(const Json& message, const char* method) {
  return message.value("method", "") == method;
}

const std::string easy_design =
    "tick 20 ms\nbutton go\nlatch live set go reset not go\noutput jet = live\nclaim bad: never live\n";

}  // namespace

TEST_CASE("a proof that goes on is cancelled within a second", "[lsp]") {
  using Clock = std::chrono::steady_clock;
  Talk talk({.timeout = std::chrono::minutes(10)});
  // One second, and room for a machine that does other work.
  const auto soon = [](Clock::time_point since) { return Clock::now() - since < std::chrono::seconds(3); };
  // The request for it, by its id.
  talk.notify("textDocument/didOpen",
              {{"textDocument", {{"uri", uri}, {"version", 1}, {"text", "tick 20 ms\n"}}}});
  talk.change(uri, Json::array({{{"text", endless_design()}}}), 2);
  const std::int64_t id =
      talk.send_request("workspace/executeCommand", {{"command", "detent.check"}, {"arguments", {uri}}});
  CHECK(talk.wait([](const Json&) { return false; }, 0, milliseconds(700)).is_null());
  auto start = Clock::now();
  talk.notify("$/cancelRequest", {{"id", id}});
  CHECK(talk.messages().back()["error"]["code"] == -32800);
  // The prover is free again: another design is checked in no time.
  talk.open("file:///easy.detent", easy_design);
  talk.checked("file:///easy.detent");
  CHECK(soon(start));
  // A change of the text; who waits is told so.
  const std::int64_t second =
      talk.send_request("workspace/executeCommand", {{"command", "detent.check"}, {"arguments", {uri}}});
  CHECK(talk.wait([](const Json&) { return false; }, 0, milliseconds(500)).is_null());
  start = Clock::now();
  const std::size_t before = talk.messages().size();
  talk.change(uri, Json::array({{{"text", easy_design}}}), 3);
  const Json told = talk.wait(
      [&](const Json& one) { return one.value("id", Json()) == second && one.contains("error"); }, before);
  REQUIRE(!told.is_null());
  CHECK(told["error"]["code"] == -32801);
  CHECK(has_code(talk.checked(uri), "refuted"));
  CHECK(soon(start));
  // The text is closed, the server shut down.
  talk.open(uri, endless_design(), 4);
  CHECK(talk.wait([](const Json&) { return false; }, 0, milliseconds(300)).is_null());
  start = Clock::now();
  talk.close(uri);
  talk.open("file:///other.detent", easy_design);
  talk.checked("file:///other.detent");
  CHECK(soon(start));
  talk.open(uri, endless_design(), 5);
  start = Clock::now();
  talk.result("shutdown");
  CHECK(soon(start));
}

TEST_CASE("progress is shown, and stops the proof where the user asks", "[lsp]") {
  Talk talk({.timeout = std::chrono::minutes(10)});
  talk.open(uri, endless_design());
  const Json create =
      talk.wait([](const Json& one) { return is_about(one, "window/workDoneProgress/create"); });
  REQUIRE(create.is_object());
  const Json token = create["params"]["token"];
  const auto progress = [&](const char* kind) {
    return [token, kind](const Json& one) {
      return is_about(one, "$/progress") && one["params"]["token"] == token &&
             one["params"]["value"]["kind"] == kind;
    };
  };
  CHECK(talk.wait(progress("begin"), 0, milliseconds(100)).is_null());  // the client has not agreed yet
  talk.feed(cli::lsp::framed(cli::lsp::text_of(cli::lsp::response(create["id"], nullptr))));
  const Json begin = talk.wait(progress("begin"));
  REQUIRE(begin.is_object());
  CHECK(begin["params"]["value"]["cancellable"] == true);
  CHECK(begin["params"]["value"]["message"] == "boat.detent: 1 claim");
  talk.notify("window/workDoneProgress/cancel", {{"token", token}});
  CHECK(talk.wait(progress("end"), 0, std::chrono::seconds(10)).is_object());
  CHECK(has_code(talk.diagnostics(uri), "undecided"));
}

TEST_CASE("what is stopped before it is begun ends too, and is checked when it is saved", "[lsp]") {
  constexpr const char* busy = "file:///busy.detent";
  Talk talk;
  talk.open(busy, endless_design());  // the prover is at this one
  talk.open(uri, easy_design);
  std::vector<Json> creates;
  for (const Json& one : talk.messages()) {
    if (is_about(one, "window/workDoneProgress/create")) creates.push_back(one);
  }
  REQUIRE(creates.size() == 2);
  const auto ended = [](const Json& token) {
    return [token](const Json& one) {
      return is_about(one, "$/progress") && one["params"]["token"] == token &&
             one["params"]["value"]["kind"] == "end";
    };
  };
  for (const Json& one : creates) {
    talk.feed(cli::lsp::framed(cli::lsp::text_of(cli::lsp::response(one["id"], nullptr))));
  }
  for (const std::size_t index : {std::size_t{1}, std::size_t{0}}) {  // first the one that waits
    talk.notify("window/workDoneProgress/cancel", {{"token", creates[index]["params"]["token"]}});
  }
  for (const Json& one : creates) CHECK(talk.wait(ended(one["params"]["token"])).is_object());
  CHECK(has_code(talk.diagnostics(uri), "undecided"));
  talk.save(uri);
  CHECK_FALSE(has_code(talk.checked(uri), "undecided"));
}

TEST_CASE("a client that wants no progress is not asked", "[lsp]") {
  Talk talk({.capabilities = Json::object()});
  talk.open(uri, easy_design);
  talk.checked(uri);
  for (const Json& one : talk.messages()) {
    CHECK(!is_about(one, "window/workDoneProgress/create"));
    CHECK(!is_about(one, "workspace/inlayHint/refresh"));
  }
  // One that gives a token with its request gets it on that.
  talk.change(uri, Json::array({{{"text", easy_design + " "}}}), 2);
  talk.result("workspace/executeCommand",
              {{"command", "detent.check"}, {"arguments", {uri}}, {"workDoneToken", "mine"}});
  const auto of = [](const char* kind) {
    return [kind](const Json& one) {
      return is_about(one, "$/progress") && one["params"]["token"] == "mine" &&
             one["params"]["value"]["kind"] == kind;
    };
  };
  CHECK(talk.wait(of("begin")).is_object());
  CHECK(talk.wait(of("end")).is_object());
}

}  // namespace detent::test
