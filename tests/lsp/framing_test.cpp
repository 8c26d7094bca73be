// The base protocol of LSP 3.17 (header and content parts; the specification read): messages cut anywhere,
// headers that are broken, too long or of another charset.
#include "cli/lsp/framing.hpp"

#include <vector>

#include "tests/support/catch.hpp"
#include "tests/support/chance.hpp"

namespace detent::test {
namespace {

using cli::lsp::Frame;
using cli::lsp::Framing;

std::vector<Frame> frames_of(const std::vector<std::string>& pieces) {
  Framing framing;
  std::vector<Frame> frames;
  for (const std::string& piece : pieces) {
    framing.feed(piece);
    while (auto frame = framing.next()) frames.push_back(*frame);
  }
  return frames;
}

/// One body behind what is wrong: that it is still read.
void check_recovers(const std::string& broken, const std::string& problem) {
  const auto frames = frames_of({broken + cli::lsp::framed("{}")});
  INFO(broken.substr(0, 60));
  REQUIRE(frames.size() == 2);
  CHECK(frames[0].problem.find(problem) != std::string::npos);
  CHECK(frames[1].body == "{}");
}

}  // namespace

TEST_CASE("behind a message whose length is not known the next is found", "[lsp]") {
  check_recovers("Content-Length: -5\r\n\r\n{\"jsonrpc\":\"2.0\"}", "no number of bytes");
  check_recovers("Content-Length: 99999999999999999999\r\n\r\n{\"jsonrpc\":\"2.0\"}", "no number of bytes");
  check_recovers("Content-Type: text/plain\r\n\r\n{\"jsonrpc\":\"2.0\"}", "no Content-Length");
}

TEST_CASE("messages come whole, however the bytes are cut", "[lsp]") {
  const std::vector<std::string> bodies{"{}", "", "{\"a\":\"\xf0\x9f\x9a\xa4\"}", std::string(70'000, ' ')};
  std::string bytes;
  for (const std::string& body : bodies) bytes += cli::lsp::framed(body);
  Chance chance(7);
  for (int round = 0; round < 50; ++round) {
    std::vector<std::string> pieces;
    for (std::size_t at = 0; at < bytes.size();) {
      const std::size_t size = 1 + chance.below(round == 0 ? 1 : 5'000);
      pieces.push_back(bytes.substr(at, size));
      at += size;
    }
    const auto frames = frames_of(pieces);
    REQUIRE(frames.size() == bodies.size());
    for (std::size_t i = 0; i < bodies.size(); ++i) CHECK(frames[i].body == bodies[i]);
  }
}

TEST_CASE("a header may have other fields, in any order and spelling", "[lsp]") {
  const auto frames =
      frames_of({"content-type: application/vscode-jsonrpc; charset=utf-8\r\nCONTENT-LENGTH:2\r\n\r\n{}"
                 "Content-Length: 2\r\nContent-Type: x; charset=utf8\r\n\r\n[]"});
  REQUIRE(frames.size() == 2);
  CHECK(frames[0].body == "{}");
  CHECK(frames[1].body == "[]");
}

TEST_CASE("behind a broken header reading starts afresh", "[lsp]") {
  check_recovers("Content-Type: x\r\n\r\n", "no Content-Length");
  check_recovers("Content-Length: two\r\n\r\n", "no number");
  check_recovers("Content-Length: -2\r\n\r\n", "no number");
  check_recovers("Content-Length: 99999999999999999999999\r\n\r\n", "no number");
  check_recovers("garbage\r\n\r\n", "no ':'");
  check_recovers("Content-Length: 2\r\nContent-Type: x; charset=utf-16\r\n\r\n{}", "UTF-8");
  check_recovers("\r\n\r\n", "no Content-Length");
}

TEST_CASE("a body that is too long is passed over, and not kept", "[lsp]") {
  Framing framing;
  framing.feed("Content-Length: " + std::to_string(cli::lsp::longest_body + 5) + "\r\n\r\n");
  const auto problem = framing.next();
  REQUIRE(problem);
  CHECK(problem->problem.find("at most") != std::string::npos);
  const std::string block(1024 * 1024, 'x');
  for (std::size_t sent = 0; sent < cli::lsp::longest_body; sent += block.size()) {
    framing.feed(block);
    REQUIRE(!framing.next());
  }
  framing.feed("xxxxx" + cli::lsp::framed("{}"));
  const auto next = framing.next();
  REQUIRE(next);
  CHECK(next->body == "{}");
}

TEST_CASE("a header without an end is given up in pieces", "[lsp]") {
  const auto frames = frames_of({std::string(100'000, 'x'), "\r\n\r\n" + cli::lsp::framed("{}")});
  REQUIRE(frames.size() >= 2);
  CHECK(frames.size() < 20);
  CHECK(frames.back().body == "{}");
}

TEST_CASE("any bytes at all end in no more than problems", "[lsp]") {
  Chance chance(11);
  const std::string letters = "Content-Length: 0123456789\r\n\r\n{}[]\":,\\\xff";
  for (int round = 0; round < 200; ++round) {
    std::string bytes;
    for (std::size_t i = chance.below(3'000); i > 0; --i) bytes += letters[chance.below(letters.size())];
    const auto frames = frames_of({bytes});
    for (const Frame& frame : frames) CHECK((frame.problem.empty() || frame.body.empty()));
  }
}

}  // namespace detent::test
