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

/// Blocks marked `step FILE`: what `detent step FILE` prints when it is given the commands behind "> ".
std::vector<Block> step_blocks(std::istream& page) {
  std::vector<Block> blocks;
  bool inside = false;
  for (std::string line; std::getline(page, line);) {
    if (line.starts_with("```step ")) {
      blocks.push_back({.arguments = {line.substr(3, 4), line.substr(8)}, .output = {}});
      inside = true;
    } else if (line == "```") {
      inside = false;
    } else if (inside) {
      blocks.back().output += line + '\n';
    }
  }
  return blocks;
}

std::string commands_in(const std::string& output) {
  std::istringstream lines(output);
  std::string commands;
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with("> ")) commands += line.substr(2) + '\n';
  }
  return commands;
}

}  // namespace

TEST_CASE("what README.md shows of a design by hand is what happens") {
  std::ifstream page(DETENT_SOURCE_DIR "/README.md");
  const std::vector<Block> blocks = step_blocks(page);
  REQUIRE_FALSE(blocks.empty());
  for (const Block& block : blocks) {
    const ProcessResult result =
        run_detent(block.arguments, {.input = commands_in(block.output),
                                     .environment = {{"LC_ALL", "C.UTF-8"}, {"COLUMNS", "80"}},
                                     .directory = DETENT_SOURCE_DIR});
    CHECK(result.errors.empty());
    CHECK(result.output == block.output);
  }
}

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
