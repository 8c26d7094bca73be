// The program as an editor starts it: exit statuses as LSP 3.17 lays them down, ends of every kind, proofs
// that go on.
#include <csignal>

#include "cli/lsp/message.hpp"
#include "tests/lsp/lsp_process.hpp"
#include "tests/lsp/talk.hpp"
#include "tests/support/says.hpp"
#include "tests/support/shipped.hpp"

namespace detent::test {
namespace {

using cli::lsp::notification;
using cli::lsp::request;
using Clock = std::chrono::steady_clock;

constexpr const char* uri = "file:///boat.detent";

auto answers(std::int64_t id) {
  return [id](const Json& message) { return !message.contains("method") && message["id"] == id; };
}

void initialize(LspProcess& program) {
  program.send(request(1, "initialize", {{"capabilities", usual_capabilities()}}));
  REQUIRE(program.receive(answers(1)).contains("result"));
  program.send(notification("initialized", Json::object()));
}

void open(LspProcess& program, const std::string& text) {
  program.send(notification(
      "textDocument/didOpen",
      {{"textDocument", {{"uri", uri}, {"languageId", "detent"}, {"version", 1}, {"text", text}}}}));
}

}  // namespace

TEST_CASE("the program: a whole session", "[lsp][process]") {
  LspProcess program;
  initialize(program);
  open(program, "tick 20 ms\nbutton b\nlatch l set b reset false\noutput o = l\nclaim c: never l\n");
  const Json told = program.receive([](const Json& message) {
    return message.value("method", "") == "textDocument/publishDiagnostics" && has(message.dump(), "REFUTED");
  });
  REQUIRE(told.is_object());
  CHECK(told["params"]["version"] == 1);
  program.send(request(2, "shutdown", nullptr));
  CHECK(program.receive(answers(2))["result"].is_null());
  program.send(notification("exit", nullptr));
  CHECK(program.wait() == 0);
}

TEST_CASE("the program: how it ends", "[lsp][process]") {
  {
    LspProcess program;
    initialize(program);
    program.send(notification("exit", nullptr));
    CHECK(program.wait() == 1);
  }
  {
    LspProcess program;
    program.close_input();
    CHECK(program.wait() == 1);
  }
  {
    LspProcess program;
    initialize(program);
    program.send(request(2, "shutdown", nullptr));
    REQUIRE(program.receive(answers(2)).is_object());
    program.close_input();
    CHECK(program.wait() == 0);
  }
  {
    LspProcess program;
    initialize(program);
    program.send_bytes("Content-Length: 1000\r\n\r\n{\"jsonrpc\"");  // and then the editor dies
    program.close_input();
    CHECK(program.wait() == 1);
  }
}

TEST_CASE("the program: garbage is answered and survived", "[lsp][process]") {
  LspProcess program;
  program.send_bytes(std::string(100'000, '\xff') + "\r\n\r\n");
  program.send_bytes("GET / HTTP/1.1\r\nHost: x\r\n\r\n");
  program.send_bytes("Content-Length: 3\r\n\r\n{{{");
  const auto refuses = [](const Json& message) {
    return message.contains("error") && message["error"]["code"] == -32700;
  };
  CHECK(program.receive(refuses).is_object());
  initialize(program);
  program.send(request(2, "shutdown", nullptr));
  CHECK(program.receive(answers(2)).is_object());
}

TEST_CASE("the program: ends within a second in the middle of a proof", "[lsp][process]") {
  for (const char* how : {"shutdown", "end of input", "terminated", "killed"}) {
    INFO(how);
    LspProcess program({"--timeout", "1h", "--jobs", "2"});
    initialize(program);
    open(program, endless_design());
    REQUIRE(program
                .receive([](const Json& one) {
                  return one.value("method", "") == "window/workDoneProgress/create";
                })
                .is_object());
    CHECK(program.receive([](const Json&) { return false; }, std::chrono::milliseconds(700)).is_null());
    const auto start = Clock::now();
    if (how == std::string("shutdown")) {
      program.send(request(2, "shutdown", nullptr));
      program.send(notification("exit", nullptr));
      CHECK(program.wait() == 0);
    } else if (how == std::string("end of input")) {
      program.close_input();
      CHECK(program.wait() == 1);
    } else {
      const int signal = how == std::string("killed") ? SIGKILL : SIGTERM;
      program.kill(signal);
      CHECK(program.wait() == 128 + signal);
    }
    CHECK(Clock::now() - start < std::chrono::seconds(3));  // one, and room for a busy machine
  }
}

TEST_CASE("the program: questions are answered while a proof goes on", "[lsp][process]") {
  LspProcess program({"--timeout", "1h", "--jobs", "1"});
  initialize(program);
  open(program, endless_design());
  program.send(request(5, "workspace/executeCommand", {{"command", "detent.check"}, {"arguments", {uri}}}));
  for (std::int64_t id = 10; id < 20; ++id) {
    program.send(request(id, "textDocument/documentSymbol", about(uri)));
    CHECK(program.receive(answers(id), std::chrono::seconds(10)).is_object());
  }
  const auto start = Clock::now();
  program.send(notification("$/cancelRequest", {{"id", 5}}));
  const Json cancelled = program.receive(answers(5));
  REQUIRE(cancelled.is_object());
  CHECK(cancelled["error"]["code"] == -32800);
  CHECK(Clock::now() - start < std::chrono::seconds(3));
}

TEST_CASE("the program: its options", "[lsp][process]") {
  check_refused({"lsp", "--timeout", "soon"}, "--timeout", "");
  check_refused({"lsp", "--jobs", "0"}, "--jobs", "");
  check_refused({"lsp", "boat.detent"}, "boat.detent", "");
  const ProcessResult help = run_detent({"lsp", "--help"});
  CHECK(help.status == 0);
  CHECK(has(help.output, "Language Server Protocol 3.17"));
  LspProcess program({"--timeout", "300ms", "--memory", "1GiB"});
  initialize(program);
  open(program, endless_design());
  CHECK(
      program.receive([](const Json& message) { return has(message.dump(), "\"undecided\""); }).is_object());
}

}  // namespace detent::test
