// A text that is open in the editor: it counts, and not what the disk holds.
#pragma once

#include <cstdint>
#include <string>

#include "cli/lsp/line_map.hpp"

namespace detent::cli::lsp {

class Document {
 public:
  Document(std::string uri, std::string text, std::int64_t version);

  [[nodiscard]] const std::string& uri() const { return uri_; }    ///< as the client spells it
  [[nodiscard]] const std::string& path() const { return path_; }  ///< path_of(uri)
  [[nodiscard]] const std::string& text() const { return text_; }
  [[nodiscard]] const LineMap& lines() const { return lines_; }
  [[nodiscard]] std::int64_t version() const { return version_; }

  /// The text is not what the editor holds any more; until the whole of it comes.
  void lose() { lost_ = true; }
  [[nodiscard]] bool is_lost() const { return lost_; }

  /// One `contentChanges` array of didChange, in order; an element without a range is the whole text. Throws
  /// RequestError where it is none: then nothing is changed.
  void change(const Json& changes, std::int64_t version, Encoding encoding);

 private:
  std::string uri_, path_, text_;
  LineMap lines_;
  std::int64_t version_;
  bool lost_ = false;
};

}  // namespace detent::cli::lsp
