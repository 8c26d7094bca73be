// What the fuzzer looks at, on a few bytes of each kind: the texts that fuzzing of the reader has kept, and
// messages by chance.
#include <filesystem>

#include "cli/reader.hpp"
#include "tests/fuzz/talk_over.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chance.hpp"

namespace detent::test {

TEST_CASE("the server survives any bytes as a text, as messages and as a stream", "[lsp]") {
  std::size_t looked = 0;
  for (const char* folder : {"corpus", "found"}) {
    for (const auto& entry :
         std::filesystem::directory_iterator(std::string(DETENT_SOURCE_DIR "/tests/fuzz/") + folder)) {
      const std::string path = entry.path().string();
      const dsl::FileText text = cli::file_reader(path)(path);
      if (!text.text || text.text->size() > 20'000) continue;
      for (const char how : {'\0', '\1', '\2'}) {
        INFO(path << " as " << static_cast<int>(how));
        CHECK(fuzz::talk_over(std::string(1, how) + *text.text) == "");
        ++looked;
      }
    }
  }
  CHECK(looked > 10);
}

TEST_CASE("the server survives messages by chance", "[lsp]") {
  const std::vector<std::string> pieces{
      R"({"jsonrpc":"2.0","id":)",
      R"({"jsonrpc":"2.0","method":)",
      "\"textDocument/didOpen\"",
      "\"textDocument/didChange\"",
      "\"textDocument/rename\"",
      "\"textDocument/completion\"",
      "\"exit\"",
      "\"shutdown\"",
      "\"$/cancelRequest\"",
      R"(,"params":{"textDocument":{"uri":"file:///a","text":"tick 20 ms\nbutton b\n","version":1}})",
      R"(,"contentChanges":[{"range":{"start":{"line":0,"character":3},"end":{"line":9,"character":0}},"text":"x"}])",
      R"(,"position":{"line":1,"character":8})",
      "1",
      ",",
      "}",
      "]",
      "[",
      "null",
      "\n",
      "\"\\ud83d\"",
      "-1",
      "1e400"};
  Chance chance(23);
  for (int round = 0; round < 1'000; ++round) {
    std::string bytes(1, chance.one_in(3) ? '\0' : '\1');
    for (std::size_t i = chance.below(25); i > 0; --i) bytes += chance.pick(pieces);
    CHECK(fuzz::talk_over(bytes) == "");
  }
}

}  // namespace detent::test
