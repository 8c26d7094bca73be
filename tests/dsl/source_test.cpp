// Places in texts: lines and columns as an editor counts them (from 1; columns in characters, not bytes).
#include "dsl/source.hpp"

#include "tests/support/catch.hpp"

using namespace detent::dsl;

namespace {

LineColumn at(const Sources& sources, std::uint32_t offset) {
  return sources.line_column({0, offset, offset});
}

}  // namespace

TEST_CASE("sources: files are numbered in the order in which they are added") {
  Sources sources;
  CHECK(sources.add("main.detent", "a") == 0);
  CHECK(sources.add("parts.detent", "b") == 1);
  CHECK(sources.size() == 2);
  CHECK(sources.name(1) == "parts.detent");
  CHECK(sources.text(1) == "b");
}

TEST_CASE("sources: lines and columns count from 1") {
  Sources sources;
  sources.add("t", "ab\ncd\n");
  CHECK(at(sources, 0).line == 1);
  CHECK(at(sources, 0).column == 1);
  CHECK(at(sources, 2).line == 1);  // the line feed belongs to the line that it ends
  CHECK(at(sources, 2).column == 3);
  CHECK(at(sources, 3).line == 2);
  CHECK(at(sources, 4).column == 2);
  CHECK(at(sources, 6).line == 3);
  CHECK(at(sources, 6).column == 1);
}

TEST_CASE("sources: columns count characters, not bytes") {
  Sources sources;
  sources.add("t", "\xC3\xA4\xE2\x82\xAC\xF0\x9F\x9A\xA4x");  // two, three and four bytes (RFC 3629), then x
  CHECK(at(sources, 2).column == 2);
  CHECK(at(sources, 5).column == 3);
  CHECK(at(sources, 9).column == 4);
}

TEST_CASE("sources: a place past the end of a file is its end") {
  Sources sources;
  sources.add("t", "ab\nc");
  CHECK(at(sources, 1000).line == 2);
  CHECK(at(sources, 1000).column == 2);
  CHECK(sources.text(Place{0, 3, 1000}) == "c");
  CHECK(sources.text(Place{0, 1000, 2000}).empty());
  CHECK(sources.text(Place{0, 2, 1}).empty());
}

TEST_CASE("sources: a line is shown without its end") {
  Sources sources;
  sources.add("t", "ab\r\ncd\n\nlast");
  CHECK(sources.line_text({0, 1, 2}) == "ab");
  CHECK(sources.line_text({0, 4, 5}) == "cd");
  CHECK(sources.line_text({0, 7, 7}).empty());
  CHECK(sources.line_text({0, 9, 9}) == "last");
}

TEST_CASE("sources: an empty file has one empty line") {
  Sources sources;
  sources.add("t", "");
  CHECK(at(sources, 0).line == 1);
  CHECK(at(sources, 0).column == 1);
  CHECK(sources.line_text({0, 0, 0}).empty());
}
