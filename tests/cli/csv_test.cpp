// Comma-separated values against RFC 4180 ("Common Format and MIME Type for CSV Files", section 2; from
// memory): its seven rules, and what it leaves open (LF, byte order mark, other separators) as cli/formats.md
// says.
#include "cli/csv_reader.hpp"

#include <algorithm>
#include <cstring>

#include "cli/csv_writer.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chance.hpp"

namespace detent::test {
namespace {

using Table = std::vector<std::vector<std::string>>;

/// Hands out at most `piece` bytes at a time.
cli::CsvReader::Source source(const std::string& text, std::size_t piece) {
  return [&text, piece, at = std::size_t{0}](char* to, std::size_t most) mutable {
    const std::size_t count = std::min({piece, most, text.size() - at});
    std::memcpy(to, text.data() + at, count);
    at += count;
    return static_cast<std::ptrdiff_t>(count);
  };
}

struct Read {
  Table rows;
  std::optional<cli::CsvProblem> problem;
};

Read read(const std::string& text, std::size_t piece = 1'000'000) {
  cli::CsvReader reader(source(text, piece));
  Read result;
  while (reader.next()) {
    result.rows.emplace_back();
    for (std::size_t i = 0; i < reader.fields(); ++i) result.rows.back().emplace_back(reader.field(i));
  }
  result.problem = reader.problem();
  return result;
}

}  // namespace

TEST_CASE("CSV as RFC 4180 has it") {
  struct Row {
    const char* rule;
    std::string text;
    Table expected;
  };
  for (const Row& row : std::initializer_list<Row>{
           {"1 each record on a line",
            "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n",
            {{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
           {"2 the last may have no line end",
            "aaa,bbb,ccc\r\nzzz,yyy,xxx",
            {{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
           {"4 spaces belong to the field", "a , b\r\n", {{"a ", " b"}}},
           {"5 quotes",
            "\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx",
            {{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
           {"6 line ends and commas in quotes",
            "\"aaa\",\"b\r\nbb\",\"c,cc\"\r\nzzz,yyy,xxx",
            {{"aaa", "b\r\nbb", "c,cc"}, {"zzz", "yyy", "xxx"}}},
           {"7 doubled quotes", "\"aaa\",\"b\"\"bb\",\"ccc\"", {{"aaa", "b\"bb", "ccc"}}},
           {"LF alone", "a,b\nc,d\n", {{"a", "b"}, {"c", "d"}}},
           {"byte order mark",
            "\xEF\xBB\xBF"
            "a,b\n",
            {{"a", "b"}}},
           {"semicolons", "a;b,c\n1;2,5\n", {{"a", "b,c"}, {"1", "2,5"}}},
           {"a comma in quotes decides nothing", "\"a,b\";c\n", {{"a,b", "c"}}},
           {"tabs", "a\tb\n", {{"a", "b"}}},
           {"empty fields", "a,,\n,,\n", {{"a", "", ""}, {"", "", ""}}},
           {"empty lines are passed over", "a,b\n\n\r\nc,d\n\n", {{"a", "b"}, {"c", "d"}}},
           {"nothing", "", {}},
           {"one field", "a", {{"a"}}},
       }) {
    for (const std::size_t piece : {1U, 2U, 3U, 7U, 1'000'000U}) {
      INFO(row.rule << ", pieces of " << piece);
      const Read result = read(row.text, piece);
      CHECK_FALSE(result.problem.has_value());
      CHECK(result.rows == row.expected);
    }
  }
}

TEST_CASE("what is no CSV is told with row and column") {
  struct Row {
    std::string text;
    std::size_t row, column;
    const char* what;
  };
  for (const Row& row : std::initializer_list<Row>{
           {"a,b\n1,2\"3\n", 2, 2, "a quote inside a field"},
           {"a,b\n1,\"2\"3\n", 2, 2, "behind the closing quote"},
           {"a,b\n1,\"2\n3,4\n", 2, 2, "never closed"},
           {std::string("a,b\n1,2\0\n", 9), 2, 2, "NUL"},
           {std::string("a,b\n1,\"2\0\"\n", 11), 2, 2, "NUL"},
           {"a,b\n" + std::string(100'000, '1') + ",2\n", 2, 1, "longer than 65536 bytes"},
           {"a,b\n1,\"" + std::string(100'000, '\n'), 2, 2, "longer than 65536 bytes"},
           {std::string(5'000, ','), 1, 4'097, "more than 4096 fields"},
       }) {
    const Read result = read(row.text);
    REQUIRE(result.problem.has_value());
    INFO(result.problem->what);
    CHECK(result.problem->row == row.row);
    CHECK(result.problem->column == row.column);
    CHECK(result.problem->what.find(row.what) != std::string::npos);
    CHECK_FALSE(result.problem->mend.empty());
  }
  cli::CsvReader broken([](char*, std::size_t) { return std::ptrdiff_t{-1}; });
  CHECK_FALSE(broken.next());
  CHECK(broken.problem().has_value());
}

TEST_CASE("any table that is written is read back") {
  Chance chance(7);
  const std::vector<std::string> letters{"a", ",", "\"", "\r", "\n", ";", "\t", " ", "\xC3\xA9", ""};
  for (int round = 0; round < 300; ++round) {
    Table table;
    std::string text;
    const std::size_t width = 2 + chance.below(4);
    for (std::size_t row = 1 + chance.below(5); row > 0; --row) {
      std::vector<std::string> fields(width);
      for (std::string& field : fields) {
        for (std::size_t i = chance.below(5); i > 0; --i) field += chance.pick(letters);
      }
      text += cli::csv_row(fields);
      table.push_back(std::move(fields));
    }
    const Read result = read(text, 1 + chance.below(9));
    INFO(text);
    REQUIRE_FALSE(result.problem.has_value());
    CHECK(result.rows == table);
  }
}

}  // namespace detent::test
