// What is offered while somebody writes.
#include <set>

#include "tests/lsp/talk.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

namespace detent::test {
namespace {

constexpr const char* uri = "file:///boat.detent";

std::set<std::string> labels(const Json& result) {
  std::set<std::string> all;
  for (const Json& item : result["items"]) all.insert(item["label"].get<std::string>());
  return all;
}

/// What is offered where `|` stands in the text, which is taken out. (`^` in place of it where `|` is text.)
std::set<std::string> offered(std::string text) {
  const std::size_t at = text.find('^');
  REQUIRE(at != std::string::npos);
  text.erase(at, 1);
  Talk talk({.prove = false});
  talk.open(uri, text);
  const auto position = cli::lsp::LineMap(text).position(text, at, cli::lsp::Encoding::utf16);
  return labels(talk.result("textDocument/completion", about(uri, position.line, position.character)));
}

}  // namespace

TEST_CASE("completion offers what fits the place", "[lsp]") {
  const auto holds = [](const std::set<std::string>& all, const std::vector<std::string>& wanted,
                        const std::vector<std::string>& unwanted) {
    for (const std::string& one : wanted) {
      INFO("wanted " << one);
      CHECK(all.contains(one));
    }
    for (const std::string& one : unwanted) {
      INFO("unwanted " << one);
      CHECK(!all.contains(one));
    }
  };
  holds(offered("^"), {"tick", "channel", "claim"}, {"and", "true"});
  holds(offered(every_sort + "^"), {"signal", "pulse", "claim"}, {"end"});
  holds(offered(every_sort + "signal s = ^"), {"x", "sw", "b", "e", "rises", "not", "patience"},
        {"edge", "channel", "first"});
  holds(offered(every_sort + "signal s = b ^"), {"and", "or", "is"}, {"x", "channel"});
  holds(offered(every_sort + "signal s = b and r^"), {"rises", "radio", "x"}, {"claim"});
  holds(offered(every_sort + "signal s = sw is ^"), {"safe", "run", "not"}, {"x", "pressed"});
  holds(offered(every_sort + "signal s = sw is not r^"), {"safe", "run"}, {"not", "x"});
  holds(offered(every_sort + "signal s = sw == ^"), {"safe", "run", "sw"}, {});
  holds(offered(every_sort + "signal s = previous(sw, starting ^"), {"safe", "run"}, {});
  holds(offered(every_sort + "signal s = previous(sw, starting safe) is ^"), {"safe", "run"}, {"x"});
  holds(offered(every_sort + "signal other = sw\nsignal s = other is ^\noutput o = b"), {"safe", "run"},
        {"x"});
  holds(offered(every_sort + "signal s = b is ^"), {"pressed", "released"}, {"safe"});
  holds(offered(every_sort + "signal s = radio is ^"), {"lost"}, {"pressed"});
  holds(offered(every_sort + "signal s = e.^"), {"first", "c"}, {"x"});
  holds(offered(every_sort + "signal s = e.fi^"), {"first"}, {"x"});
  holds(offered(every_sort + "pulse p ^"), {"on", "for", "restarting"}, {"x"});
  holds(offered(every_sort + "pulse p on b for ^"), {"patience"}, {"x", "b"});
  holds(offered(every_sort + "pulse p on b for 4 ^"), {"ms", "s", "ticks"}, {"x"});
  holds(offered(every_sort + "use f = ^"), {"edge"}, {"x"});
  holds(offered(every_sort + "claim c: ^"), {"always", "never", "whenever", "possible", "x"}, {"edge"});
  holds(offered(every_sort + "assume c: ^"), {"always"}, {"possible"});
  holds(offered(every_sort + "claim c: b only ^"), {"within", "after", "while"}, {"x"});
  holds(offered(every_sort + "claim c: b lasts at ^"), {"least", "most"}, {"x"});
  holds(offered(every_sort + "power_up ^"), {"edges"}, {"x"});
  holds(offered(every_sort + "power_up edges ^"), {"counted", "ignored", "either"}, {"x"});
  holds(offered(every_sort + "stages s is one | two\n  one -> ^\n"), {"one", "two"}, {"x"});
  holds(offered(every_sort + "stages s is one | two\n  one -> two when b\n  two -> ^"), {"one", "two"},
        {"b"});
  holds(offered(every_sort + "link l carries ^"), {"x", "sw", "b"}, {"patience", "e"});
  holds(offered(every_sort + "link l carries sw lost: sw ^"), {"safe", "run"}, {"x"});
  holds(offered(every_sort + "latch l set b reset b starting ^"), {"on", "off"}, {"x"});
  holds(offered(every_sort + "part q(^"), {"condition", "level", "count", "duration"}, {"x"});
  holds(offered("tick 20 ms\nbutton b\npart q(condition c)\n  signal s = ^c\nend\n"), {"c", "s"}, {"b"});
  CHECK(offered(every_sort + "// a comment ^").empty());
  CHECK(offered(every_sort + "button n \"a sentence ^\"").empty());
  CHECK(offered(every_sort + "switch s is ^").empty());
  CHECK(offered(every_sort + "pulse p on b for 4^").empty());
  holds(offered(every_sort + "button n \"a sentence\" ^"), {}, {});
}

TEST_CASE("completion never fails, wherever it is asked for", "[lsp]") {
  for (const char* name : {"boat/pump_jet.detent", "functions/muting.detent", "winch/camera_winch.detent"}) {
    const std::string text = shipped_text(name);
    Talk talk({.prove = false});
    talk.open(uri, text);
    const cli::lsp::LineMap lines(text);
    for (std::size_t at = 0; at <= text.size(); at += 7) {
      const auto position = lines.position(text, at, cli::lsp::Encoding::utf16);
      for (const char* method : {"completion", "hover", "definition", "documentHighlight"}) {
        const Json answer =
            talk.ask(std::string("textDocument/") + method, about(uri, position.line, position.character));
        REQUIRE(answer.contains("result"));
      }
    }
  }
}

}  // namespace detent::test
