// A case: a design file that says in comments which diagnostics it must give.
//
//   // expect error unknown_name at 4:15
//   // expect warning unused at 3:8
//   // expect error include_holds_more at 1:1 in library/more.part
//
// The list is whole: a diagnostic that is not listed is as wrong as a listed one that is not given. A file
// whose name begins with fail_ expects an error, and only such a file does.
#pragma once

#include <string>
#include <vector>

#include "dsl/front.hpp"

namespace detent::test {

struct CaseFile {
  std::string path;   ///< for reading
  std::string shown;  ///< below tests/cases
};

/// All *.detent files below a folder of tests/cases ("" for all), sorted; those in `messages/` too.
[[nodiscard]] std::vector<CaseFile> case_files(const std::string& folder = "");

[[nodiscard]] dsl::Compiled compile_case(const CaseFile& file);

/// The lines of expectation in a text, sorted, without the "// expect ".
[[nodiscard]] std::vector<std::string> expectations(const std::string& text);

/// The same lines made of what was given: "error unknown_name at 4:15", sorted.
[[nodiscard]] std::vector<std::string> findings(const dsl::Compiled& compiled, const CaseFile& file);

/// A file's text; throws std::runtime_error where there is none.
[[nodiscard]] std::string text_of_file(const std::string& path);

}  // namespace detent::test
