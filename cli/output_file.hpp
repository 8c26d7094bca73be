// -o of the commands that write one file, which is made afresh each time.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "cli/result.hpp"
#include "dsl/source.hpp"

namespace detent::cli {

struct OutputFile {
  std::optional<std::string> path = {};  ///< absent or "-": standard output
  std::string what = {};                 ///< that is written: "the page"
  std::string example = {};              ///< a name to give it: "report.html"
  /// Files that are read and must not be written over, each with what it is: "the design".
  std::vector<std::pair<std::string, std::string>> keep = {};

  [[nodiscard]] bool is_file() const { return path && *path != "-"; }
};

/// None of the files that a design is made of is to be written over.
void keep_designs(OutputFile& output, const dsl::Sources& designs);

/// Whether it can be written, tried before work that may take long. A problem, or nothing.
[[nodiscard]] std::optional<CommandResult> try_output_file(const OutputFile& output);

/// Writes the text: the file is whole or as it was. `told` is what is said where it went to a file.
[[nodiscard]] CommandResult deliver_output(const OutputFile& output, const std::string& text, Status status,
                                           const std::string& told);

}  // namespace detent::cli
