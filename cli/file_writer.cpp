#include "cli/file_writer.hpp"

#include <cerrno>
#include <filesystem>
#include <system_error>

#include "cli/whole_file.hpp"

namespace detent::cli {

namespace fs = std::filesystem;

Written write_file(const std::string& path, const std::string& text, bool over) {
  if (!over) {
    const int error = write_new_file(path, text);
    return error == 0 ? Written::yes : error == EEXIST ? Written::is_there : Written::no;
  }
  std::error_code problem;
  const fs::file_status there = fs::status(path, problem);
  if (fs::exists(there) && !fs::is_regular_file(there)) return Written::no;
  return write_whole_file(path, text).empty() ? Written::yes : Written::no;
}

}  // namespace detent::cli
