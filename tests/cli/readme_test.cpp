// The tour in README.md is what the program says: each ```console block is run, and compared to the letter.
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "tests/support/catch.hpp"
#include "tests/support/process.hpp"

namespace detent::test {
namespace {

struct Block {
  std::vector<std::string> arguments;
  std::string output;
};

std::vector<std::string> words_of(const std::string& line) {
  std::istringstream text(line);
  std::vector<std::string> words;
  for (std::string word; text >> word;) words.push_back(word);
  return words;
}

/// The blocks marked `console` that begin with `$ detent …`.
std::vector<Block> console_blocks(std::istream& page) {
  std::vector<Block> blocks;
  bool inside = false;
  for (std::string line; std::getline(page, line);) {
    if (line == "```console") {
      blocks.emplace_back();
      inside = true;
    } else if (line == "```") {
      inside = false;
    } else if (inside && line.starts_with("$ detent ")) {
      REQUIRE(blocks.back().arguments.empty());  // one command a block
      blocks.back().arguments = words_of(line.substr(9));
    } else if (inside) {
      blocks.back().output += line + '\n';
    }
  }
  return blocks;
}

}  // namespace

TEST_CASE("the tour in README.md shows what the program says") {
  std::ifstream page(DETENT_SOURCE_DIR "/README.md");
  REQUIRE(page.good());
  const std::vector<Block> blocks = console_blocks(page);
  REQUIRE(blocks.size() >= 2);
  for (const Block& block : blocks) {
    REQUIRE_FALSE(block.arguments.empty());
    const ProcessResult result = run_detent(
        block.arguments,
        {.environment = {{"LC_ALL", "C.UTF-8"}, {"COLUMNS", "80"}}, .directory = DETENT_SOURCE_DIR});
    CHECK(result.errors.empty());
    CHECK(result.output == block.output);
  }
}

}  // namespace detent::test
