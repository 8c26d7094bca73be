// Several files: what is included, URIs, and what is said of a text.
#include "cli/lsp/uri.hpp"
#include "tests/lsp/talk.hpp"
#include "tests/support/catch.hpp"

namespace detent::test {

TEST_CASE("what is open counts in the place of the file that is included", "[lsp]") {
  const std::string part = "part edge(condition x)\n  signal first = rises(x)\nend\n";
  const std::string main =
      "tick 20 ms\ninclude \"my part.detent\"\nbutton b\nuse e = edge(b)\noutput o = e.first\nclaim c: "
      "possible o\n";
  const std::string main_uri = "file:///f%C3%A4/main.detent";
  const std::string part_uri = "file:///f%C3%A4/my%20part.detent";
  Talk talk({.prove = false, .files = {{"/f\xc3\xa4/my part.detent", part}}});
  talk.open(main_uri, main);
  CHECK(talk.diagnostics(main_uri).empty());
  talk.open(part_uri, part);
  CHECK(talk.diagnostics(part_uri).empty());  // parts that wait to be included lack nothing
  talk.change(part_uri,
              Json::array({{{"text", "part edge(condition x)\n  signal second = rises(x)\nend\n"}}}), 2);
  talk.let_pass(std::chrono::seconds(1));
  CHECK(talk.diagnostics(main_uri).dump().find("e.first") != std::string::npos);
  talk.change(part_uri,
              Json::array({{{"text", "part edge(condition x)\n  signal first = raises(x)\nend\n"}}}), 3);
  talk.let_pass(std::chrono::seconds(1));
  REQUIRE(!talk.diagnostics(part_uri).empty());
  CHECK(talk.diagnostics(part_uri)[0]["range"]["start"]["line"] == 1);
  talk.close(part_uri);  // the disk counts again
  CHECK(talk.diagnostics(main_uri).empty());
  CHECK(talk.diagnostics(part_uri).empty());
  talk.files().clear();
  talk.notify("workspace/didChangeWatchedFiles", {{"changes", {{{"uri", part_uri}, {"type", 3}}}}});
  CHECK(talk.diagnostics(main_uri)[0]["code"] == "unreadable-file");
  talk.open(part_uri, part);
  CHECK(talk.diagnostics(main_uri).empty());
}

TEST_CASE("no verdict outlives what the disk held when it was found", "[lsp]") {
  const std::string part = "part guard(condition x, condition y)\n  signal ok = x and y\nend\n";
  const std::string other = "part guard(condition x, condition y)\n  signal ok = x or y\nend\n";
  const std::string main =
      "tick 20 ms\ninclude \"g.detent\"\nbutton a\nbutton b\nuse g = guard(a, b)\noutput o = g.ok\n"
      "claim both: never o and not a\n";
  const std::string uri = "file:///m.detent";
  Talk talk({.files = {{"/g.detent", part}}});
  CHECK(talk.wait([](const Json& one) {
              return one.value("method", "") == "client/registerCapability" &&
                     one["params"]["registrations"][0]["method"] == "workspace/didChangeWatchedFiles";
            })
            .is_object());
  const auto refuted = [&] { return talk.checked(uri).dump().find("REFUTED") != std::string::npos; };
  talk.open(uri, main);
  CHECK_FALSE(refuted());
  // Nobody tells that the file changes; whatever shows a verdict finds it.
  talk.files()["/g.detent"] = other;
  const Json hover = talk.result("textDocument/hover", about_word(uri, main, "both"));
  CHECK(hover.dump().find("proved") == std::string::npos);
  CHECK(refuted());
  talk.files()["/g.detent"] = part;
  talk.save(uri);
  CHECK_FALSE(refuted());
  talk.files()["/g.detent"] = other;
  CHECK(talk.result("workspace/executeCommand",
                    {{"command", "detent.check"}, {"arguments", {uri}}})["exit_status"] == 1);
  // Told under another name, as where a link leads to the file.
  talk.files()["/g.detent"] = part;
  talk.notify("workspace/didChangeWatchedFiles",
              {{"changes", {{{"uri", "file:///elsewhere.detent"}, {"type", 2}}}}});
  CHECK_FALSE(refuted());
  talk.files().clear();
  talk.save(uri);
  CHECK(talk.diagnostics(uri)[0]["code"] == "unreadable-file");
  talk.files()["/g.detent"] = other;
  talk.save(uri);
  CHECK(refuted());
}

TEST_CASE("a change that can't be understood takes the verdicts along until the text comes whole", "[lsp]") {
  const std::string uri = "file:///m.detent";
  const std::string text = "tick 20 ms\nbutton a\noutput o = a\nclaim c: never o and not a\n";
  Talk talk;
  talk.open(uri, text);
  talk.checked(uri);
  const auto says_proved = [&] {
    return talk.result("textDocument/hover", about_word(uri, text, "c:")).dump().find("proved") !=
           std::string::npos;
  };
  CHECK(says_proved());
  talk.change(uri, Json::array({{{"text", 7}}}), 2);
  talk.save(uri);
  talk.let_pass(std::chrono::seconds(1));
  CHECK_FALSE(says_proved());
  talk.change(uri, Json::array({{{"text", text}}}), 3);
  talk.save(uri);
  talk.checked(uri);
  CHECK(says_proved());
}

TEST_CASE("mistakes come with their mend, their code and further places", "[lsp]") {
  const std::string uri = "file:///d.detent";
  Talk talk({.prove = false});
  talk.open(uri, "tick 20 ms\nbutton thrust\nbutton thrust\nclaim c: always thurst\n");
  const Json all = talk.diagnostics(uri);
  REQUIRE(all.size() == 2);
  CHECK(all[0]["code"] == "declared-twice");
  CHECK(all[0]["severity"] == 1);
  CHECK(all[0]["relatedInformation"][0]["location"]["range"]["start"]["line"] == 1);
  CHECK(all[1]["message"].get<std::string>().find("mend: did you mean 'thrust'?") != std::string::npos);
  for (const Json& one : all) CHECK(one["source"] == "detent");

  talk.open(uri, "tick 20 ms\nbutton thrust\nsignal spare = thrust\nclaim c: possible thrust\n");
  REQUIRE(talk.diagnostics(uri).size() == 1);
  CHECK(talk.diagnostics(uri)[0]["code"] == "unused");
  CHECK(talk.diagnostics(uri)[0]["severity"] == 2);
  CHECK(talk.diagnostics(uri)[0]["tags"] == Json::array({1}));

  Talk plain({.prove = false, .capabilities = Json::object()});
  plain.open(uri, "tick 20 ms\nbutton thrust\nbutton thrust\nclaim c: always thrust\n");
  CHECK(!plain.diagnostics(uri)[0].contains("relatedInformation"));
  CHECK(plain.diagnostics(uri)[0]["message"].get<std::string>().find("first declared here") !=
        std::string::npos);
}

TEST_CASE("URIs and paths", "[lsp]") {
  using cli::lsp::path_of;
  using cli::lsp::uri_of;
  CHECK(path_of("file:///a%20b/%C3%A4.detent") == "/a b/\xc3\xa4.detent");
  CHECK(path_of("file://localhost/a.detent") == "/a.detent");
  CHECK(path_of("file:///a/../b/./c.detent") == "/b/c.detent");
  CHECK(path_of("file:///a%2") == "/a%2");
  CHECK(path_of("file:///a%zz") == "/a%zz");
  CHECK(path_of("untitled:Untitled-1") == "untitled:Untitled-1");
  CHECK(uri_of("/a b/\xc3\xa4%.detent") == "file:///a%20b/%C3%A4%25.detent");
  for (const char* path : {"/x", "/a b", "/%", "/\xf0\x9f\x9a\xa4/#?.detent"})
    CHECK(path_of(uri_of(path)) == path);
}

}  // namespace detent::test
