// What is known of one design as it stands in the editor: everything but verdicts.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "cli/lsp/line_map.hpp"
#include "dsl/front.hpp"
#include "dsl/name_index.hpp"

namespace detent::cli::lsp {

/// Does not change once it is made: a proof may go on with it in another thread.
struct Analysis {
  std::string path;  ///< of the main file
  dsl::Compiled compiled;
  dsl::NameIndex names;
  std::vector<LineMap> lines;    ///< by number of file
  std::set<std::string> needed;  ///< every path that was asked for, whether there was a file or not
  /// The file holds nothing but parts: it is no design, and waits to be included.
  bool only_parts = false;
  Encoding encoding = Encoding::utf16;

  [[nodiscard]] Position position(std::uint32_t file, std::uint32_t offset) const;
  /// The range of a place; an empty one is made as long as a character where there is one.
  [[nodiscard]] Json range(const dsl::Place& place) const;
  /// The number of the file with this path, if it is one of this design.
  [[nodiscard]] std::optional<std::uint32_t> file(const std::string& path) const;
  /// The path of a file of this design.
  [[nodiscard]] const std::string& path_of_file(std::uint32_t file) const;
};

[[nodiscard]] std::shared_ptr<const Analysis> analyse(const std::string& path, const dsl::FileReader& read,
                                                      Encoding encoding);

}  // namespace detent::cli::lsp
