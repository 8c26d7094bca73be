// Whole messages, as a person sees them: tests/cases/messages/*.detent and what is said of each in
// *.expected. DETENT_UPDATE=1 in the environment writes those files afresh; read the difference then.
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "case_file.hpp"
#include "tests/support/catch.hpp"

using namespace detent;

namespace {

/// With the name of the file alone, so that it is the same wherever the tests lie.
std::string messages_of(const test::CaseFile& file) {
  const std::string name = std::filesystem::path(file.path).filename().string();
  const std::string text = test::text_of_file(file.path);
  const dsl::Compiled compiled = dsl::compile_text(name, text);
  std::string messages;
  for (const dsl::Diagnostic& diagnostic : compiled.diagnostics) {
    messages += dsl::to_text(diagnostic, compiled.sources);
  }
  return messages;
}

bool is_update() {
  const char* wish = std::getenv("DETENT_UPDATE");
  return wish != nullptr && std::string(wish) == "1";
}

}  // namespace

TEST_CASE("whole messages are as they were read and approved", "[cases]") {
  const auto files = test::case_files("messages");
  REQUIRE(files.size() >= 10);
  for (const test::CaseFile& file : files) {
    DYNAMIC_SECTION(file.shown) {
      const std::string expected_path = std::filesystem::path(file.path).replace_extension(".expected");
      const std::string messages = messages_of(file);
      if (is_update()) {
        std::ofstream(expected_path, std::ios::binary) << messages;
      }
      CHECK(messages == test::text_of_file(expected_path));
      CHECK_FALSE(messages.empty());
    }
  }
}
