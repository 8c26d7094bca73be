// Verdicts where the claims stand, what is told of them, and that none is ever shown of another text.
#include <algorithm>

#include "tests/lsp/talk.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/says.hpp"
#include "tests/support/shipped.hpp"

namespace detent::test {
namespace {

constexpr const char* uri = "file:///boat.detent";
using std::chrono::milliseconds;

const Json* with_code(const Json& all, const std::string& code) {
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const Json& one) { return one["code"] == code; });
  return found == all.end() ? nullptr : &*found;
}

bool is_about(const Json& message, const char* method) {
  return message.value("method", "") == method;
}

const std::string two_claims =
    "tick 20 ms\nbutton go\nbutton stop\nlatch live \"the jet\" set go reset stop\noutput jet = live\n"
    "claim good \"stop stops\": whenever stop: not live\nclaim bad \"never at all\": never live\n";

}  // namespace

TEST_CASE("a refuted claim stands on its line, with the run on the lines of what moves", "[lsp]") {
  const std::string boat = "file://" DETENT_SOURCE_DIR "/specs/boat/flaw_window_kept_alive.detent";
  const std::string text = shipped_text("boat/flaw_window_kept_alive.detent");
  Talk talk;
  talk.open(boat, text);
  const Json all = talk.checked(boat);
  const Json* refuted = with_code(all, "refuted");
  REQUIRE(refuted != nullptr);
  CHECK((*refuted)["severity"] == 1);
  CHECK(text_in(text, (*refuted)["range"]) == "window_closes");
  CHECK(has((*refuted)["message"], "window_closes: REFUTED by a run of 72 ticks (tick 0 to 71)"));
  CHECK(has((*refuted)["message"], "Here the claim breaks: window is on"));
  // The same moments as on the page of `detent check` in README.md.
  std::vector<std::pair<std::string, std::string>> told;
  for (const Json& one : (*refuted)["relatedInformation"]) {
    CHECK(one["location"]["uri"] == boat);
    told.emplace_back(text_in(text, one["location"]["range"]), one["message"]);
  }
  const auto tells = [&](const std::string& place, const std::string& words) {
    return std::any_of(told.begin(), told.end(),
                       [&](const auto& one) { return one.first == place && has(one.second, words); });
  };
  CHECK(tells("thrust", "0 s, tick 0: at power-up thrust is -100 %"));
  CHECK(tells("rudder", "0.5 s, tick 10: you move rudder to -100 %"));
  CHECK(tells("settled", "0.5 s, tick 10: settled goes on"));
  CHECK(tells("window", "0.5 s, tick 10: window goes on"));
  REQUIRE(!told.empty());
  CHECK(told.back().first == "window_closes");
  CHECK(has(told.back().second, "3.55 s, tick 71: Here the claim breaks"));
}

TEST_CASE("what is proved is told quietly", "[lsp]") {
  Talk talk;
  talk.open(uri, two_claims);
  const Json all = talk.checked(uri);
  CHECK(with_code(all, "proved") == nullptr);
  const Json hints = talk.result("textDocument/inlayHint", about(uri));
  REQUIRE(hints.size() == 2);
  CHECK(hints[0]["label"] == "proved, in every run of any length");
  CHECK(hints[0]["position"]["line"] == 5);
  CHECK(has(hints[1]["label"], "REFUTED"));
  Json part = about(uri);
  part["range"] = {{"start", {{"line", 6}, {"character", 0}}}, {"end", {{"line", 7}, {"character", 0}}}};
  CHECK(talk.result("textDocument/inlayHint", part).size() == 1);

  Talk plain({.capabilities = Json::object()});
  plain.open(uri, two_claims);
  const Json told = plain.checked(uri);
  const Json* proved = with_code(told, "proved");
  REQUIRE(proved != nullptr);
  CHECK((*proved)["severity"] == 4);
  const Json* refuted = with_code(told, "refuted");
  REQUIRE(refuted != nullptr);
  CHECK(has((*refuted)["message"], "go is pressed"));  // the run in the message, for who has no places
}

TEST_CASE("a hover tells the verdict, the story and the caution", "[lsp]") {
  Talk talk;
  talk.open(uri, two_claims);
  talk.checked(uri);
  const std::string bad =
      talk.result("textDocument/hover", about_word(uri, two_claims, "bad"))["contents"]["value"];
  CHECK(has(bad, "REFUTED"));
  CHECK(has(bad, "Here the claim breaks"));
  CHECK(has(bad, "blade or propeller off"));
  const std::string good =
      talk.result("textDocument/hover", about_word(uri, two_claims, "good"))["contents"]["value"];
  CHECK(has(good, "proved, in every run of any length"));
  talk.change(uri, Json::array({{{"text", two_claims + "\n"}}}), 2);
  const std::string stale =
      talk.result("textDocument/hover", about_word(uri, two_claims, "bad"))["contents"]["value"];
  CHECK(!has(stale, "REFUTED"));
  CHECK(has(stale, "not checked since the text has changed"));
}

TEST_CASE("with the first keystroke a verdict goes, and comes back when the text is saved", "[lsp]") {
  Talk talk;
  talk.open(uri, two_claims);
  CHECK(with_code(talk.checked(uri), "refuted") != nullptr);
  talk.change(
      uri,
      Json::array(
          {{{"range", {{"start", {{"line", 6}, {"character", 0}}}, {"end", {{"line", 6}, {"character", 0}}}}},
            {"text", "\n"}}}),
      2);
  CHECK(with_code(talk.diagnostics(uri), "refuted") == nullptr);  // at once
  CHECK(talk.result("textDocument/inlayHint", about(uri)).empty());
  talk.let_pass(std::chrono::seconds(5));
  CHECK(with_code(talk.diagnostics(uri), "refuted") == nullptr);  // nothing is checked before it is saved
  talk.save(uri);
  const Json* again = nullptr;
  const Json all = talk.checked(uri);
  again = with_code(all, "refuted");
  REQUIRE(again != nullptr);
  CHECK((*again)["range"]["start"]["line"] == 7);
}

TEST_CASE("no verdict of an earlier text is ever told", "[lsp]") {
  // The claim of version n says its own number: what is told must be of the version that is published.
  Talk talk({.capabilities = Json::object()});
  const auto text = [](int version) {
    return "tick 20 ms\nbutton b\nlatch l set b reset false\noutput o = l\nclaim c" +
           std::to_string(version) + ": never l\n";
  };
  talk.open(uri, text(1), 1);
  for (int version = 2; version < 30; ++version) {
    talk.change(uri, Json::array({{{"text", text(version)}}}), version);
    if (version % 3 == 0) talk.let_pass(milliseconds(200));
    talk.save(uri);
    if (version % 5 == 0) talk.checked(uri);
  }
  talk.checked(uri);
  for (const Json& message : talk.messages()) {
    if (!is_about(message, "textDocument/publishDiagnostics")) continue;
    const std::string name = "c" + std::to_string(message["params"]["version"].get<int>());
    for (const Json& one : message["params"]["diagnostics"]) {
      if (one["code"] == "refuted") CHECK(has(one["message"], name + ":"));
    }
  }
  CHECK(with_code(talk.diagnostics(uri), "refuted") != nullptr);
}

TEST_CASE("an undecided claim warns, and says which limit was reached", "[lsp]") {
  Talk talk({.timeout = milliseconds(300)});
  talk.open(uri, endless_design());
  const Json all = talk.checked(uri);
  const Json* undecided = with_code(all, "undecided");
  REQUIRE(undecided != nullptr);
  CHECK((*undecided)["severity"] == 2);
  CHECK(has((*undecided)["message"], "--timeout"));
}

TEST_CASE("a claim that says nothing warns; assumptions that leave no run are errors", "[lsp]") {
  Talk talk;
  talk.open(uri,
            "tick 20 ms\nbutton a\nbutton b\nlatch l set a and b reset not a or not b\noutput o = l\n"
            "claim hollow: whenever l and not a: b\n");
  const Json hollow = talk.checked(uri);
  REQUIRE(with_code(hollow, "says-nothing") != nullptr);
  CHECK((*with_code(hollow, "says-nothing"))["severity"] == 2);
  talk.open(
      "file:///none.detent",
      "tick 20 ms\nbutton a\noutput o = a\nassume one: always a\nassume two: never a\nclaim c: always o\n");
  const Json none = talk.checked("file:///none.detent");
  REQUIRE(with_code(none, "no-run") != nullptr);
  CHECK(with_code(none, "refuted") == nullptr);
  CHECK(with_code(none, "proved") == nullptr);
}

TEST_CASE("the claim of a part stands in the part's file, once for each use that differs", "[lsp]") {
  const std::string part =
      "part edge(condition x)\n  signal first = rises(x)\n  claim short: never first\nend\n";
  const std::string main =
      "tick 20 ms\ninclude \"p.detent\"\nbutton a\nbutton b\nuse one = edge(a)\nuse two = edge(b)\noutput o "
      "= one.first or two.first\n";
  Talk talk({.files = {{"/p.detent", part}}});
  talk.open("file:///m.detent", main);
  talk.checked("file:///m.detent");
  const Json all = talk.diagnostics("file:///p.detent");
  REQUIRE(all.size() == 2);
  CHECK(has(all[0]["message"], "one.short: REFUTED"));
  CHECK(has(all[1]["message"], "two.short: REFUTED"));
  CHECK(all[0]["range"]["start"]["line"] == 2);
  CHECK(all[0]["relatedInformation"][0]["location"]["uri"] == "file:///m.detent");
  talk.close("file:///m.detent");
  CHECK(talk.diagnostics("file:///p.detent").empty());
}

TEST_CASE("the command answers what check prints", "[lsp]") {
  Talk talk;
  talk.open(uri, two_claims);
  const Json json =
      talk.result("workspace/executeCommand", {{"command", "detent.check"}, {"arguments", {uri}}});
  REQUIRE(json["verdicts"].size() == 2);
  CHECK(json["verdicts"][0]["outcome"] == "proved");
  CHECK(json["verdicts"][1]["outcome"] == "refuted");
  talk.open("file:///wrong.detent", "tick 20 ms\noutput o = p\n");
  const Json wrong = talk.result("workspace/executeCommand",
                                 {{"command", "detent.check"}, {"arguments", {"file:///wrong.detent"}}});
  CHECK(wrong["exit_status"] == 2);
}

}  // namespace detent::test
