#include "cli/file_writer.hpp"

#include <filesystem>
#include <system_error>

#include "cli/whole_file.hpp"

namespace detent::cli {

namespace fs = std::filesystem;

Written write_file(const std::string& path, const std::string& text, bool over) {
  std::error_code problem;
  const fs::file_status there = fs::status(path, problem);
  if (fs::exists(there) && (!over || !fs::is_regular_file(there)))
    return over ? Written::no : Written::is_there;
  return write_whole_file(path, text).empty() ? Written::yes : Written::no;
}

}  // namespace detent::cli
