#include "cli/file_writer.hpp"

#include <filesystem>
#include <fstream>
#include <system_error>

namespace detent::cli {

namespace fs = std::filesystem;

Written write_file(const std::string& path, const std::string& text, bool over) {
  std::error_code problem;
  const fs::file_status there = fs::status(path, problem);
  if (fs::exists(there) && (!over || !fs::is_regular_file(there)))
    return over ? Written::no : Written::is_there;
  const fs::path half = path + ".part";
  if (fs::exists(half, problem)) return Written::no;
  {
    std::ofstream file(half, std::ios::binary | std::ios::trunc);
    file << text;
    file.close();
    if (!file) {
      fs::remove(half, problem);
      return Written::no;
    }
  }
  fs::rename(half, path, problem);
  if (!problem) return Written::yes;
  fs::remove(half, problem);
  return Written::no;
}

}  // namespace detent::cli
