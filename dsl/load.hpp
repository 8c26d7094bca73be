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
  std::optional<std::string> text;  ///< absent where there is none
  std::string problem = {};         ///< then why
  bool too_large = false;           ///< the reader gave up because of its size
};
/// Fetches a file. Called in the thread that loads, once for each file; what it throws is passed on. A path
/// is the one that the caller gave, or one that an `include` names, with the folder of the file that includes
/// before it.
using FileReader = std::function<FileText(const std::string& path)>;

/// Reads and parses `path` and, in place of each include, the parts of the file it names (relative to the
/// including file; each file once, a cycle is a message). The main file becomes number 0 of `sources`.
/// What can't be read is a diagnostic; what could be read is in the tree all the same.
[[nodiscard]] Tree load(const std::string& path, const FileReader& read, Sources& sources,
                        Diagnostics& diagnostics);

}  // namespace detent::dsl
