// What a program says, and that it refuses as it should.
#pragma once

#include <string>
#include <vector>

#include "tests/support/catch.hpp"
#include "tests/support/process.hpp"

namespace detent::test {

inline bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// A program that did nothing but say what is wrong, and the mend.
inline void check_refusal(const ProcessResult& result, const std::string& what, const std::string& mend) {
  INFO(result.output << result.errors);
  CHECK(result.status == 2);
  CHECK(result.output.empty());
  CHECK(has(result.errors, what));
  CHECK(has(result.errors, "mend: "));
  CHECK(has(result.errors, mend));
}

/// The program with these arguments does.
inline void check_refused(const std::vector<std::string>& words, const std::string& what,
                          const std::string& mend) {
  check_refusal(run_detent(words), what, mend);
}

}  // namespace detent::test
