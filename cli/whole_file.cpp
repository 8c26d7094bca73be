#include "cli/whole_file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <system_error>

#include "cli/output.hpp"

namespace detent::cli {
namespace {

namespace fs = std::filesystem;

std::string words_of(int error) {
  return std::generic_category().message(error);
}

/// The rights that a new file of this user gets.
mode_t usual_mode() {
  const mode_t mask = umask(0);
  umask(mask);
  return static_cast<mode_t>(0666) & ~mask;
}

/// The file behind links, if there is one.
fs::path target_of(const std::string& path) {
  std::error_code problem;
  const fs::path target = fs::canonical(path, problem);
  return problem ? fs::path(path) : target;
}

/// A file beside the target; gone with the object unless it was put in the target's place.
class Draft {
 public:
  explicit Draft(const fs::path& target) : target_(target), name_(target.string() + ".XXXXXX") {
    file_ = mkstemp(name_.data());
    error_ = file_ < 0 ? errno : 0;
  }
  Draft(const Draft&) = delete;
  Draft& operator=(const Draft&) = delete;
  ~Draft() {
    if (file_ >= 0) close(file_);
    if (file_ >= 0 && !kept_) unlink(name_.c_str());
  }

  int write(std::string_view text) {
    if (error_ == 0) error_ = write_all(file_, text);
    return error_;
  }

  /// In the target's place, or, if it must be `fresh`, only where nothing is.
  int keep(bool fresh) {
    struct stat old {};
    const bool known = !fresh && stat(target_.c_str(), &old) == 0;
    const mode_t mode = known ? old.st_mode & 07777U : usual_mode();
    if (error_ == 0 && (fsync(file_) != 0 || fchmod(file_, mode) != 0)) error_ = errno;
    if (error_ == 0 && (fresh ? move_fresh() : rename(name_.c_str(), target_.c_str())) != 0) error_ = errno;
    kept_ = error_ == 0;
    return error_;
  }

 private:
  /// Fails with EEXIST, in one step with the look.
  [[nodiscard]] int move_fresh() const {
    if (renameat2(AT_FDCWD, name_.c_str(), AT_FDCWD, target_.c_str(), RENAME_NOREPLACE) == 0) return 0;
    if (errno != EINVAL && errno != ENOSYS) return -1;
    // Not every file system can do that; a second name is as good.
    return link(name_.c_str(), target_.c_str()) == 0 ? unlink(name_.c_str()) : -1;
  }

  fs::path target_;
  std::string name_;
  int file_ = -1;
  int error_ = 0;
  bool kept_ = false;
};

enum class Kind { ordinary, folder, special };

Kind kind_of(const fs::path& path) {
  std::error_code problem;
  const fs::file_status status = fs::status(path, problem);
  if (!fs::exists(status) || fs::is_regular_file(status)) return Kind::ordinary;
  return fs::is_directory(status) ? Kind::folder : Kind::special;
}

int write_special(const fs::path& path, std::string_view text) {
  const int file = open(path.c_str(), O_WRONLY | O_CLOEXEC);
  if (file < 0) return errno;
  const int error = write_all(file, text);
  return close(file) != 0 && error == 0 ? errno : error;
}

}  // namespace

std::string write_whole_file(const std::string& path, std::string_view text) {
  const fs::path target = target_of(path);
  const Kind kind = kind_of(target);
  if (kind == Kind::folder) return words_of(EISDIR);
  int error = 0;
  if (kind == Kind::special) {
    error = write_special(target, text);
  } else {
    Draft draft(target);
    error = draft.write(text);
    if (error == 0) error = draft.keep(false);
  }
  return error == 0 ? "" : words_of(error);
}

int write_new_file(const std::string& path, std::string_view text) {
  struct stat there {};
  if (lstat(path.c_str(), &there) == 0) return EEXIST;  // said before anything is written
  Draft draft(path);
  const int error = draft.write(text);
  return error == 0 ? draft.keep(true) : error;
}

std::string try_whole_file(const std::string& path) {
  const fs::path target = target_of(path);
  switch (kind_of(target)) {
    case Kind::folder:
      return words_of(EISDIR);
    case Kind::special:
      return access(target.c_str(), W_OK) == 0 ? "" : words_of(errno);
    case Kind::ordinary:
      break;
  }
  const int error = Draft(target).write("detent tries whether it may write here\n");
  return error == 0 ? "" : words_of(error);
}

}  // namespace detent::cli
