// Hover, definition, references, rename, outline and layout, as a client sees them.
#include "tests/lsp/talk.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/says.hpp"
#include "tests/support/shipped.hpp"

namespace detent::test {
namespace {

constexpr const char* uri = "file:///boat.detent";

const std::string boat =
    "design \"boat\"\ntick 20 ms\nchannel thrust \"left stick\" from -100 % to 100 % step 1 %\n"
    "switch guard \"top left\" is safe | run\nbutton nudge\nlink radio carries thrust lost: thrust -100 %\n"
    "pulse window \"step two\" on nudge for 400 ms\nlatch live set window and guard is run reset guard is "
    "safe\n"
    "counter tries up nudge from 0 to 3\nstages arming is locked | open_now\n  locked -> open_now when "
    "window\n"
    "output jet = thrust when live else -100 %\nclaim c \"it can\": possible live\n";

std::string hover_of(Talk& talk, const std::string& word, std::size_t occurrence = 0) {
  const Json result = talk.result("textDocument/hover", about_word(uri, boat, word, occurrence));
  return result.is_null() ? "" : result["contents"]["value"].get<std::string>();
}

}  // namespace

TEST_CASE("a hover tells meaning, kind and range", "[lsp]") {
  Talk talk({.prove = false});
  talk.open(uri, boat);
  const std::string thrust = hover_of(talk, "thrust");
  CHECK(has(thrust, "channel thrust \"left stick\" from -100 % to 100 % step 1 %"));
  CHECK(has(thrust, "left stick"));
  CHECK(has(thrust, "From -100 % to 100 %."));
  CHECK(has(thrust, "At power-up it may be anywhere."));
  CHECK(has(thrust, "while the radio link is lost it is -100 %"));
  CHECK(has(hover_of(talk, "window", 1), "Then it is on for 20 ticks"));
  CHECK(has(hover_of(talk, "live"), "Before tick 0 it counts as off."));
  CHECK(has(hover_of(talk, "tries"), "begins at 0"));
  CHECK(has(hover_of(talk, "guard", 1), "One of: safe, run."));
  CHECK(has(hover_of(talk, "safe", 1), "position of switch guard"));
  CHECK(has(hover_of(talk, "open_now", 1), "stage of stages arming"));
  CHECK(has(hover_of(talk, "jet"), "A level in %"));
  CHECK(has(hover_of(talk, "pulse"), "pulse NAME on E for T"));
  CHECK(has(hover_of(talk, "possible"), "Some run has a tick with P"));
  CHECK(hover_of(talk, "step two").empty());  // a sentence
  CHECK(hover_of(talk, "400").empty());
}

TEST_CASE("a hover is plain where Markdown is not known", "[lsp]") {
  Talk talk({.prove = false, .capabilities = Json::object()});
  talk.open(uri, boat);
  const Json hover = talk.result("textDocument/hover", about_word(uri, boat, "window"));
  CHECK(hover["contents"]["kind"] == "plaintext");
  CHECK(!has(hover["contents"]["value"], "```"));
}

TEST_CASE("words of a design are no Markdown", "[lsp]") {
  const std::string text = "tick 20 ms\nbutton b \"<b>*[x](y)* ``` `\"\noutput o = b\n";
  Talk talk({.prove = false});
  talk.open(uri, text);
  const std::string value =
      talk.result("textDocument/hover", about_word(uri, text, "b \""))["contents"]["value"];
  CHECK(has(value, "\\<b\\>\\*\\[x\\](y)\\*"));
  CHECK(value.starts_with("````text\n"));  // a longer fence than what the text has
}

TEST_CASE("definition, references and highlights agree, through includes and parts", "[lsp]") {
  const std::string part = "part edge(condition x)\n  signal first = rises(x)\nend\n";
  const std::string main =
      "tick 20 ms\ninclude \"lib/p.detent\"\nbutton b\nuse e = edge(b)\noutput o = e.first and b\nclaim c: "
      "possible o\n";
  Talk talk({.prove = false, .files = {{"/lib/p.detent", part}}});
  talk.open("file:///m.detent", main);
  const auto ask = [&](const char* what, const std::string& word, std::size_t occurrence = 0) {
    Json params = about_word("file:///m.detent", main, word, occurrence);
    params["context"] = {{"includeDeclaration", true}};
    return talk.result(std::string("textDocument/") + what, params);
  };
  const Json first = ask("definition", "first");
  CHECK(first["uri"] == "file:///lib/p.detent");
  CHECK(text_in(part, first["range"]) == "first");
  CHECK(ask("definition", "edge(")["uri"] == "file:///lib/p.detent");
  CHECK(text_in(main, ask("definition", "e.first")["range"]) == "e");
  CHECK(ask("definition", "lib/p")["uri"] == "file:///lib/p.detent");  // the file itself
  CHECK(ask("definition", "tick").is_null());
  const Json uses = ask("references", "b\nuse");
  CHECK(uses.size() == 3);
  for (const Json& use : uses) CHECK(text_in(main, use["range"]) == "b");
  CHECK(ask("references", "first").size() == 2);
  CHECK(ask("documentHighlight", "b\nuse").size() == 3);
  CHECK(ask("documentHighlight", "b\nuse")[0]["kind"] == 3);
  // From the part's own file, what the open design does with it.
  talk.open("file:///lib/p.detent", part);
  Json params = about_word("file:///lib/p.detent", part, "first");
  CHECK(talk.result("textDocument/references", params).size() == 1);
  params["context"] = {{"includeDeclaration", true}};
  CHECK(talk.result("textDocument/references", params).size() == 2);
}

TEST_CASE("rename changes every file, or says why not", "[lsp]") {
  const std::string part = "part edge(condition x)\n  signal first = rises(x)\nend\n";
  const std::string main =
      "tick 20 ms\ninclude \"p.detent\"\nbutton b\nuse e = edge(b)\noutput o = e.first and b\nclaim c: "
      "possible o\n";
  Talk talk({.prove = false, .files = {{"/p.detent", part}}});
  talk.open("file:///m.detent", main);
  const auto rename = [&](const std::string& word, const std::string& name) {
    Json params = about_word("file:///m.detent", main, word);
    params["newName"] = name;
    return talk.ask("textDocument/rename", params);
  };
  const Json changes = rename("first", "start")["result"]["changes"];
  REQUIRE(changes.size() == 2);
  CHECK(text_in(part, changes["file:///p.detent"][0]["range"]) == "first");
  CHECK(text_in(main, changes["file:///m.detent"][0]["range"]) == "first");
  CHECK(changes["file:///m.detent"][0]["newText"] == "start");
  CHECK(talk.result("textDocument/prepareRename",
                    about_word("file:///m.detent", main, "first"))["placeholder"] == "first");
  const auto refused = [&](const Json& answer, const std::string& why) {
    INFO(answer.dump());
    REQUIRE(answer.contains("error"));
    CHECK(answer["error"]["code"] == -32803);
    CHECK(has(answer["error"]["message"], why));
  };
  refused(rename("first", "rises"), "word of the language");
  refused(rename("b\nuse", "e"), "declared twice");
  refused(rename("first", "not good"), "letters");
  refused(rename("output", "x"), "'output' is a word of the language");
  refused(rename("20 ms", "x"), "no name");
  for (const char* word : {"output", "20", "ms"}) {
    refused(talk.ask("textDocument/prepareRename", about_word("file:///m.detent", main, word)), "");
  }
  talk.change("file:///m.detent", Json::array({{{"text", main + "latch broken set b\n"}}}), 2);
  refused(rename("first", "start"), "not all of the text can be read");
}

TEST_CASE("what is renamed and opened again has no mistakes", "[lsp]") {
  const std::string path = DETENT_SOURCE_DIR "/specs/boat/pump_jet.detent";
  const std::string text = shipped_text("boat/pump_jet.detent");
  Talk talk({.prove = false});
  talk.open("file://" + path, text);
  Json params = about_word("file://" + path, text, "settled");
  params["newName"] = "quiet";
  std::string made = text;
  Json edits = talk.result("textDocument/rename", params)["changes"]["file://" + path];
  CHECK(edits.size() > 2);
  for (auto edit = edits.rbegin(); edit != edits.rend(); ++edit) {
    const cli::lsp::LineMap lines(text);
    const std::size_t begin =
        lines.offset(text, cli::lsp::read_position((*edit)["range"]["start"]), cli::lsp::Encoding::utf16);
    CHECK(text.substr(begin, 7) == "settled");
    made.replace(begin, 7, "quiet");
  }
  talk.open("file://" DETENT_SOURCE_DIR "/specs/boat/after.detent", made);
  CHECK(talk.diagnostics("file://" DETENT_SOURCE_DIR "/specs/boat/after.detent").size() ==
        talk.diagnostics("file://" + path).size());
}

TEST_CASE("the outline has parts with what is in them", "[lsp]") {
  Talk talk({.prove = false});
  talk.open(uri, every_sort + "output o = e.first\nclaim c \"sentence\": possible o\n");
  const Json all = talk.result("textDocument/documentSymbol", about(uri));
  std::vector<std::string> names;
  for (const Json& one : all) names.push_back(one["name"]);
  CHECK(names == std::vector<std::string>{"x", "sw", "b", "radio", "patience", "edge", "e", "o", "c"});
  CHECK(all[5]["children"][0]["name"] == "first");
  CHECK(all[8]["detail"] == "claim: sentence");

  Talk flat({.prove = false, .capabilities = Json::object()});
  flat.open(uri, every_sort);
  const Json list = flat.result("textDocument/documentSymbol", about(uri));
  REQUIRE(list.size() == 8);
  CHECK(list[6]["containerName"] == "edge");
  CHECK(list[6]["location"]["uri"] == uri);
}

TEST_CASE("layout by few edits, and none where it is right or can't be read", "[lsp]") {
  const std::string text =
      "tick   20 ms\nbutton b   // a boat: \xf0\x9f\x9a\xa4\noutput o=b\nclaim c: possible o\n";
  Talk talk({.prove = false});
  talk.open(uri, text);
  const Json edits = talk.result("textDocument/formatting", about(uri));
  REQUIRE(!edits.empty());
  std::string made = text;
  for (auto edit = edits.rbegin(); edit != edits.rend(); ++edit) {
    const cli::lsp::LineMap lines(text);
    const auto offset = [&](const char* end) {
      return lines.offset(text, cli::lsp::read_position((*edit)["range"][end]), cli::lsp::Encoding::utf16);
    };
    made.replace(offset("start"), offset("end") - offset("start"), (*edit)["newText"].get<std::string>());
  }
  CHECK(has(made, "tick 20 ms\n"));
  CHECK(has(made, "o = b\n"));
  talk.open(uri, made, 2);
  CHECK(talk.result("textDocument/formatting", about(uri)).empty());
  talk.open(uri, "tick   20 ms\nlatch\n", 3);
  CHECK(talk.result("textDocument/formatting", about(uri)).empty());
}

}  // namespace detent::test
