// Reading a file without trusting its name: only plain files, never more than the limit, never a wait.
#include "cli/reader.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <system_error>

#include "dsl/grammar.hpp"

namespace detent::cli {
namespace {

/// A file descriptor that closes itself.
class OpenFile {
 public:
  explicit OpenFile(const std::string& path)
      : number_(open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY)) {}
  OpenFile(const OpenFile&) = delete;
  OpenFile& operator=(const OpenFile&) = delete;
  ~OpenFile() {
    if (number_ >= 0) close(number_);
  }
  [[nodiscard]] int number() const { return number_; }

 private:
  int number_;
};

dsl::FileText refusal(std::string problem) {
  return {.text = {}, .problem = std::move(problem)};
}

dsl::FileText system_refusal(int error) {
  switch (error) {
    case ENOENT:
      return refusal("does not exist");
    case ENOTDIR:
      return refusal("does not exist: a part of its path is not a directory");
    case EACCES:
      return refusal("may not be read (permission denied)");
    case ENAMETOOLONG:
      return refusal("has too long a name");
    case ELOOP:
      return refusal("is a link that leads in a circle");
    default:
      return refusal("cannot be read: " + std::generic_category().message(error));
  }
}

dsl::FileText read_all(int number, std::size_t most_bytes) {
  std::string text;
  std::array<char, 65536> block{};
  while (true) {
    const ssize_t count = read(number, block.data(), block.size());
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) return system_refusal(errno);
    if (count == 0) return {.text = std::move(text)};
    text.append(block.data(), static_cast<std::size_t>(count));
    if (text.size() > most_bytes) {
      return {.text = {}, .problem = "is too large", .too_large = true};
    }
  }
}

/// Why a thing that is there is not a text, or "".
std::string kind_problem(const struct stat& status) {
  if (S_ISREG(status.st_mode)) return "";
  if (S_ISDIR(status.st_mode)) return "is a directory";
  if (S_ISFIFO(status.st_mode)) return "is a pipe, not a plain file (to read a pipe, give - and redirect it)";
  if (S_ISSOCK(status.st_mode)) return "is a socket, not a plain file";
  return "is a device, not a plain file";
}

}  // namespace

dsl::FileText read_plain_file(const std::string& path, std::size_t most_bytes) {
  if (path.empty()) return refusal("has no name");
  if (path.find('\0') != std::string::npos) return refusal("has a NUL byte in its name");
  struct stat status {};
  if (stat(path.c_str(), &status) != 0) return system_refusal(errno);
  if (std::string problem = kind_problem(status); !problem.empty()) return refusal(std::move(problem));
  const OpenFile file(path);
  if (file.number() < 0) return system_refusal(errno);
  // The name may have come to mean something else since it was looked at.
  if (fstat(file.number(), &status) != 0) return system_refusal(errno);
  if (std::string problem = kind_problem(status); !problem.empty()) return refusal(std::move(problem));
  return read_all(file.number(), most_bytes);
}

dsl::FileReader file_reader(const std::string& main_file) {
  const bool from_input = main_file == "-";
  return [from_input](const std::string& path) {
    return from_input && path == standard_input_name ? read_all(STDIN_FILENO, dsl::largest_file_bytes)
                                                     : read_plain_file(path, dsl::largest_file_bytes);
  };
}

std::string source_name(const std::string& main_file) {
  return main_file == "-" ? standard_input_name : main_file;
}

}  // namespace detent::cli
