// Designs of several files: what is read, in which order, and what is refused.
#include "dsl/load.hpp"

#include <map>

#include "tests/dsl/reading_support.hpp"
#include "tests/support/catch.hpp"

using namespace detent::dsl;

namespace {

struct Loaded : ReadText {
  std::vector<std::string> asked;  ///< paths, in order
};

using Files = std::map<std::string, std::string>;

Loaded load_files(const Files& files, const std::string& path = "main") {
  Loaded result;
  const FileReader reader = [&](const std::string& wanted) -> FileText {
    result.asked.push_back(wanted);
    const auto found = files.find(wanted);
    if (found == files.end()) return {std::nullopt, "does not exist"};
    return {found->second};
  };
  result.tree = load(path, reader, result.sources, result.diagnostics);
  return result;
}

std::vector<std::string> names(const Tree& tree) {
  std::vector<std::string> all;
  for (const Declaration& each : tree.declarations) all.push_back(each.name.text);
  return all;
}

using Names = std::vector<std::string>;

}  // namespace

TEST_CASE("loading: the parts of an included file stand where its include stood") {
  const auto loaded =
      load_files({{"main", "button a\ninclude \"parts\"\nbutton b"}, {"parts", "part p() end part q() end"}});
  CHECK(loaded.messages().empty());
  CHECK(names(loaded.tree) == Names{"a", "p", "q", "b"});
  CHECK(loaded.tree.declarations[1].place.file == 1);
  CHECK(loaded.sources.name(0) == "main");
  CHECK(loaded.sources.name(1) == "parts");
}

TEST_CASE("loading: a relative path starts at the folder of the file that includes") {
  const auto loaded = load_files({{"d/main", "include \"sub/p\""},
                                  {"d/sub/p", "include \"../q\" part p() end"},
                                  {"d/q", "include \"/r\" part q() end"},
                                  {"/r", "part r() end"}},
                                 "d/main");
  CHECK(loaded.messages().empty());
  CHECK(loaded.asked == Names{"d/main", "d/sub/p", "d/q", "/r"});
  CHECK(names(loaded.tree) == Names{"r", "q", "p"});
}

TEST_CASE("loading: each file is read once, however it is spelled") {
  const auto loaded =
      load_files({{"main", "include \"p\" include \"./p\" include \"x/../p\""}, {"p", "part p() end"}});
  CHECK(loaded.messages().empty());
  CHECK(loaded.asked == Names{"main", "p"});
  CHECK(names(loaded.tree) == Names{"p"});
}

TEST_CASE("loading: a file that includes itself is refused, with the way round") {
  const auto loaded = load_files(
      {{"main", "include \"a\""}, {"a", "include \"b\" part a() end"}, {"b", "include \"a\" part b() end"}});
  CHECK(loaded.messages() ==
        "b:1:1: error: 'a' includes itself  [include-cycle]\n"
        "  1 | include \"a\" part b() end\n"
        "    | ^^^^^^^^^^^\n"
        "  mend: move what both files need to a third file and include that\n"
        "  note: a:1:1: 'b' is included here\n");
  CHECK(names(loaded.tree) == Names{"b", "a"});
}

TEST_CASE("loading: the main file may not be included either") {
  const auto loaded = load_files({{"./main", "include \"main\""}}, "./main");
  REQUIRE(loaded.diagnostics.size() == 1);
  CHECK(loaded.diagnostics[0].code == Code::include_cycle);
}

TEST_CASE("loading: an included file that cannot be read is reported where it is included") {
  const auto loaded = load_files({{"main", "button a include \"sub/none\""}});
  CHECK(loaded.messages() ==
        "main:1:10: error: 'sub/none' does not exist  [unreadable-file]\n"
        "  1 | button a include \"sub/none\"\n"
        "    |          ^^^^^^^^^^^^^^^^^^\n"
        "  mend: check the path; a relative path starts at the folder of the file that includes\n");
}

TEST_CASE("loading: an include without a name is refused") {
  const auto loaded = load_files({{"main", "include \"\""}});
  REQUIRE(loaded.diagnostics.size() == 1);
  CHECK(loaded.diagnostics[0].code == Code::unreadable_file);
  CHECK(loaded.asked.size() == 1);
}

TEST_CASE("loading: a main file that cannot be read has a place all the same") {
  const auto loaded = load_files({}, "none");
  REQUIRE(loaded.diagnostics.size() == 1);
  CHECK(loaded.diagnostics[0].code == Code::unreadable_file);
  CHECK(loaded.diagnostics[0].place == Place{0, 0, 0});
  CHECK(loaded.sources.name(0) == "none");
  CHECK(loaded.messages().find("none:1:1: error: 'none' does not exist") == 0);
}

TEST_CASE("loading: a file that the reader finds too large is refused") {
  Sources sources;
  Diagnostics diagnostics;
  const FileReader reader = [](const std::string& path) -> FileText {
    if (path == "main") return {"include \"big\""};
    return {.text = std::nullopt, .problem = {}, .too_large = true};
  };
  const Tree tree = load("main", reader, sources, diagnostics);
  REQUIRE(diagnostics.size() == 1);
  CHECK(diagnostics[0].code == Code::file_too_large);
  CHECK(sources.text(diagnostics[0].place) == "include \"big\"");
}

TEST_CASE("loading: a text above the limit is refused even if the reader gave it") {
  const auto loaded = load_files({{"main", std::string(largest_file_bytes + 1, ' ')}});
  REQUIRE(loaded.diagnostics.size() == 1);
  CHECK(loaded.diagnostics[0].code == Code::file_too_large);
  CHECK(loaded.sources.text(0).empty());
}

TEST_CASE("loading: an included file may hold only parts and includes; one message a file") {
  const auto loaded = load_files({{"main", "include \"p\""}, {"p", "part p() end\ntick 20 ms\nbutton b"}});
  CHECK(loaded.messages() ==
        "p:2:1: error: an included file may hold only parts and includes  [include-holds-more]\n"
        "  2 | tick 20 ms\n"
        "    | ^^^^^^^^^^\n"
        "  mend: move this to the main file, or into a part\n"
        "  note: main:1:1: the file is included here\n");
  CHECK(names(loaded.tree) == Names{"p"});
}

TEST_CASE("loading: mistakes of all files are reported, and names that could not be read are kept") {
  const auto loaded = load_files({{"main", "signal a =\ninclude \"p\""}, {"p", "part p(level) end"}});
  REQUIRE(loaded.diagnostics.size() == 2);
  CHECK(loaded.diagnostics[0].place.file == 0);
  CHECK(loaded.diagnostics[1].place.file == 1);
  Names broken;
  for (const Name& name : loaded.tree.broken) broken.push_back(name.text);
  CHECK(broken == Names{"a", "p"});
}

TEST_CASE("loading: a chain of 1000 files is read; one more is refused") {
  Files files{{"main", "include \"f1\""}};
  for (int i = 1; i < 1000; ++i) {
    files["f" + std::to_string(i)] = "include \"f" + std::to_string(i + 1) + "\"";
  }
  files["f999"] = "part last() end";
  CHECK(load_files(files).messages().empty());
  CHECK(names(load_files(files).tree) == Names{"last"});
  files["f999"] = "include \"f1000\"";
  files["f1000"] = "part last() end";
  const auto loaded = load_files(files);
  REQUIRE(loaded.diagnostics.size() == 1);
  CHECK(loaded.diagnostics[0].code == Code::too_large);
  CHECK(loaded.diagnostics[0].place.file == 999);
}

TEST_CASE("loading: all files together have the limit of one") {
  const std::string half(largest_file_bytes / 2, ' ');
  const std::string main = "include \"a\" include \"b\"";
  const auto fits = load_files({{"main", main}, {"a", half}, {"b", half.substr(main.size())}});
  CHECK(fits.messages().empty());
  const auto above = load_files({{"main", main}, {"a", half}, {"b", half.substr(main.size() - 1)}});
  REQUIRE(above.diagnostics.size() == 1);
  CHECK(above.diagnostics[0].code == Code::file_too_large);
}
