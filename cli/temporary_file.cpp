#include "cli/temporary_file.hpp"

#include <fmt/format.h>

#include <stdlib.h>
#include <unistd.h>

#include <filesystem>
#include <system_error>

#include "cli/output.hpp"

namespace detent::cli {

TemporaryFile::TemporaryFile(std::string_view purpose, std::string_view ending, std::string_view text) {
  std::error_code problem;
  const std::filesystem::path folder = std::filesystem::temp_directory_path(problem);
  path_ = fmt::format("{}/detent-{}-XXXXXX{}", problem ? "/tmp" : folder.string(), purpose, ending);
  const int number = mkstemps(path_.data(), static_cast<int>(ending.size()));
  if (number < 0) return;
  made_ = true;
  written_ = write_all(number, text) == 0;
  written_ = close(number) == 0 && written_;
}

TemporaryFile::~TemporaryFile() {
  if (made_) unlink(path_.c_str());
}

}  // namespace detent::cli
