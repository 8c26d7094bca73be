// Every file below tests/cases gives exactly the diagnostics that it lists, at the places that it names.
#include <algorithm>
#include <filesystem>

#include "case_file.hpp"
#include "tests/support/catch.hpp"

using namespace detent;

namespace {

bool expects_an_error(const std::vector<std::string>& lines) {
  return std::any_of(lines.begin(), lines.end(),
                     [](const std::string& line) { return line.starts_with("error "); });
}

bool is_named_after_a_failure(const test::CaseFile& file) {
  return std::filesystem::path(file.path).filename().string().starts_with("fail_");
}

}  // namespace

TEST_CASE("every case gives the diagnostics that it lists", "[cases]") {
  const auto files = test::case_files();
  REQUIRE(files.size() > 100);
  for (const test::CaseFile& file : files) {
    DYNAMIC_SECTION(file.shown) {
      const auto expected = test::expectations(test::text_of_file(file.path));
      const dsl::Compiled compiled = test::compile_case(file);
      CHECK(test::findings(compiled, file) == expected);
      CHECK(expects_an_error(expected) == is_named_after_a_failure(file));
      CHECK(compiled.model.has_value() == !expects_an_error(expected));
    }
  }
}

TEST_CASE("a diagnostic that is not listed is seen", "[cases]") {
  const test::CaseFile file{"made_up.detent", "made_up.detent"};
  const std::string text = "tick 20 ms\nbutton stop\nclaim quiet: never stpo\n";
  const dsl::Compiled compiled = dsl::compile_text(file.path, text);
  CHECK(test::findings(compiled, file) != test::expectations(text));
  CHECK(test::findings(compiled, file) == test::expectations("// expect error unknown_name at 3:20"));
}

TEST_CASE("every diagnostic is shown as text without a fault", "[cases]") {
  for (const test::CaseFile& file : test::case_files()) {
    const dsl::Compiled compiled = test::compile_case(file);
    for (const dsl::Diagnostic& diagnostic : compiled.diagnostics) {
      INFO(file.shown);
      const std::string text = dsl::to_text(diagnostic, compiled.sources);
      CHECK(text.ends_with('\n'));
      CHECK(text.find(diagnostic.severity() == dsl::Severity::error ? ": error: " : ": warning: ") !=
            std::string::npos);
      CHECK_FALSE(diagnostic.message.empty());
      CHECK_FALSE(diagnostic.message.ends_with('.'));
    }
  }
}
