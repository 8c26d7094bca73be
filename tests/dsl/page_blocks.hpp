// The blocks of the reference page that a test can run:
//
//   ```detent              a design that must be without a mistake or a warning
//   ```detent mistake CODE a design that must give this diagnostic, and no error of another kind
//   ```detent file NAME    a file that the designs after it may include
//   ```ticks               rows that the design before it must follow
//   ```verdicts            what bounded checking must say of the design before it
#pragma once

#include <map>
#include <string>
#include <vector>

namespace detent::test {

struct DesignBlock {
  std::size_t line = 0;  ///< of the page, from 1
  std::string text;
  std::string mistake;                       ///< the code in kebab-case; "" for a good design
  std::vector<std::string> ticks, verdicts;  ///< the blocks behind it, not parted into lines
};

struct Page {
  std::vector<DesignBlock> designs;
  std::map<std::string, std::string> files;
};

/// Throws std::runtime_error where a block is of no known kind, is not closed or has no design before it.
[[nodiscard]] Page blocks_of(const std::string& markdown);

[[nodiscard]] std::vector<std::string> lines_of(const std::string& text);

}  // namespace detent::test
