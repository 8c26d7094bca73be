// Every code of dsl/diagnostics.def is shown by a case and explained in the reference.
#include <array>
#include <map>
#include <set>
#include <string>

#include "case_file.hpp"
#include "tests/support/catch.hpp"

using namespace detent;

namespace {

constexpr std::string_view all_codes[] = {
#define DETENT_DIAGNOSTIC(name, severity) #name,
#include "dsl/diagnostics.def"
#undef DETENT_DIAGNOSTIC
};

/// Codes that no file can show, and where they are tested instead.
const std::map<std::string_view, std::string_view> shown_elsewhere{
    {"file_too_large", "needs a file of more than 4 MiB: tests/dsl/load_test.cpp makes one"},
    {"too_large", "needs more than 200,000 elements: tests/dsl/limits_test.cpp makes them"},
    {"overlapping_moves", "needs the solver, which finds the run: tests/dsl/reference_page_test.cpp"},
};

std::set<std::string> codes_in_cases() {
  std::set<std::string> codes;
  for (const test::CaseFile& file : test::case_files()) {
    for (const std::string& line : test::expectations(test::text_of_file(file.path))) {
      const std::size_t begin = line.find(' ') + 1;
      codes.insert(line.substr(begin, line.find(' ', begin) - begin));
    }
  }
  return codes;
}

std::string in_kebab_case(std::string_view name) {
  std::string code(name);
  for (char& byte : code) byte = byte == '_' ? '-' : byte;
  return code;
}

}  // namespace

TEST_CASE("every diagnostic is shown by a case", "[register]") {
  const std::set<std::string> shown = codes_in_cases();
  for (const std::string_view code : all_codes) {
    INFO(code);
    CHECK(shown.contains(std::string(code)) != shown_elsewhere.contains(code));
  }
  CHECK(shown.size() + shown_elsewhere.size() == std::size(all_codes));
}

TEST_CASE("every diagnostic is explained in the reference", "[register]") {
  const std::string page = test::text_of_file(DETENT_SOURCE_DIR "/dsl/README.md");
  for (const std::string_view code : all_codes) {
    INFO(code);
    CHECK(page.find("| `" + in_kebab_case(code) + "` |") != std::string::npos);
  }
}
