// It is opened in a way that fails if it is there already, with no moment in between in which it might
// appear.
#include "cli/new_file.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>

#include "cli/output.hpp"

namespace detent::cli {

int write_new_file(const std::string& file, std::string_view text) {
  constexpr mode_t readable_by_all = 0666;  // the user's own mask takes away what it must
  const int number = open(file.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, readable_by_all);
  if (number < 0) return errno;
  int error = write_all(number, text);
  if (close(number) != 0 && error == 0) error = errno;
  if (error != 0) unlink(file.c_str());
  return error;
}

}  // namespace detent::cli
