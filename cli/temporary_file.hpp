// What another program is to read.
#pragma once

#include <string>
#include <string_view>

namespace detent::cli {

/// A file in the folder for temporary files (TMPDIR), gone with the object.
class TemporaryFile {
 public:
  /// `purpose` and `ending` are parts of its name.
  TemporaryFile(std::string_view purpose, std::string_view ending, std::string_view text);
  TemporaryFile(const TemporaryFile&) = delete;
  TemporaryFile& operator=(const TemporaryFile&) = delete;
  ~TemporaryFile();

  [[nodiscard]] const std::string& path() const { return path_; }
  /// Whether the whole text is in it.
  [[nodiscard]] bool written() const { return written_; }

 private:
  std::string path_;
  bool made_ = false;
  bool written_ = false;
};

}  // namespace detent::cli
