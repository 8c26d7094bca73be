// A design from its main file and all that it includes. The files are fetched by a function that the caller
// gives, so that nothing here touches a disk.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "dsl/diagnostics.hpp"
#include "dsl/source.hpp"
#include "dsl/tree.hpp"

namespace detent::dsl {

/// What the caller's reader answers: the text, or why there is none (in plain words, "is a directory").
struct FileText {
  std::optional<std::string> text;
  std::string problem = {};
  bool too_large = false;
};
using FileReader = std::function<FileText(const std::string& path)>;

/// Reads and parses `path` and, in place of each include, the parts of the file it names (relative to the
/// including file; each file once, a cycle is a message). The main file becomes number 0 of `sources`.
[[nodiscard]] Tree load(const std::string& path, const FileReader& read, Sources& sources,
                        Diagnostics& diagnostics);

}  // namespace detent::dsl
