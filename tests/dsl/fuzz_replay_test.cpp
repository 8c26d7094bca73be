// What the fuzzer starts from and what it has found, in every ordinary run of the tests.
#include <filesystem>
#include <fstream>
#include <iterator>

#include "tests/fuzz/exercise.hpp"
#include "tests/fuzz/layout.hpp"
#include "tests/support/catch.hpp"

namespace {

std::string text_of(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

std::size_t replay(const std::string& folder) {
  std::size_t files = 0;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::filesystem::path(DETENT_SOURCE_DIR) / folder)) {
    if (!entry.is_regular_file()) continue;
    CAPTURE(entry.path().filename().string());
    CHECK(detent::fuzz::exercise(text_of(entry.path())).broken_promise.empty());
    CHECK(detent::fuzz::check_layout(text_of(entry.path())).broken_promise.empty());
    ++files;
  }
  return files;
}

}  // namespace

TEST_CASE("the corpus and the findings of the fuzzer are read without harm") {
  CHECK(replay("tests/fuzz/corpus") >= 5);
  CHECK(replay("tests/fuzz/found") >= 1);
}
