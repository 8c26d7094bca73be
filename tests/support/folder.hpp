// A directory with files, gone afterwards.
#pragma once

#include <string>

namespace detent::test {

class Folder {
 public:
  /// Throws std::runtime_error where none can be made.
  Folder();
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder();

  [[nodiscard]] const std::string& path() const { return path_; }
  /// The path of the file that was written.
  std::string write(const std::string& name, const std::string& text) const;

 private:
  std::string path_;
};

}  // namespace detent::test
