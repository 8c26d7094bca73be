// How one check's files come in place of another's, so that whoever is stopped anywhere leaves no mixture
// that passes for evidence:
//
//   1. all files and the new index are written into a folder of their own, `unfinished.detent`. The evidence
//   of
//      the earlier check is whole all the while, and stays so if the disk is full;
//   2. the earlier index is moved away into that folder: from here on there is no index, and without one
//      nothing is evidence;
//   3. the new files are moved to their places, and what only the earlier index named is removed;
//   4. the new index is moved in.
//
// Ended in 1, the next check only clears the folder; ended in 2 or 3, it finds in it both indexes, and so the
// names of all files that belong to neither whole. Should files of two checks meet all the same, by hand or
// where the power failed, the digests in the index tell.
#include "cli/evidence_folder.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <system_error>
#include <thread>

#include "cli/digest.hpp"
#include "cli/evidence_index.hpp"
#include "cli/whole_file.hpp"

namespace detent::cli {
namespace {

namespace fs = std::filesystem;

constexpr const char* earlier_index = "earlier.json";
constexpr std::chrono::seconds patience{10};
constexpr std::chrono::milliseconds between_looks{20};

/// Locked until it is closed, also by the end of the process; -1 where somebody else has had it for too long.
int locked(const fs::path& folder) {
  const int file = open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  const auto deadline = std::chrono::steady_clock::now() + patience;
  while (file >= 0 && flock(file, LOCK_EX | LOCK_NB) != 0) {
    if (errno != EWOULDBLOCK) break;  // a file system without locks
    if (std::chrono::steady_clock::now() > deadline) {
      close(file);
      return -1;
    }
    std::this_thread::sleep_for(between_looks);
  }
  return file;
}

bool among(const std::vector<std::string>& names, const std::string& name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

}  // namespace

EvidenceFolder::EvidenceFolder(fs::path path)
    : path_(std::move(path)), unfinished_(path_ / "unfinished.detent") {}

EvidenceFolder::~EvidenceFolder() {
  std::error_code ignored;
  if (opened_ && !moving_) fs::remove_all(unfinished_, ignored);
  if (lock_ >= 0) close(lock_);
}

bool EvidenceFolder::open() {
  std::error_code problem;
  fs::create_directories(path_, problem);
  if (problem) return false;
  lock_ = locked(path_);
  if (lock_ < 0) return false;
  earlier_ = listed_files(read_index(path_ / evidence_index));
  clear_unfinished();
  opened_ = fs::create_directory(unfinished_, problem);
  return opened_;
}

void EvidenceFolder::clear_unfinished() {
  std::error_code ignored;
  for (const char* index : {earlier_index, evidence_index}) {
    for (const std::string& name : listed_files(read_index(unfinished_ / index))) {
      if (!among(earlier_, name)) fs::remove(path_ / name, ignored);
    }
  }
  fs::remove_all(unfinished_, ignored);
}

bool EvidenceFolder::write(const std::string& name, std::string_view text) {
  written_.push_back(name);
  digests_[name] = sha256(text);
  return write_whole_file((unfinished_ / name).string(), text).empty();
}

bool EvidenceFolder::move(const std::string& name) const {
  std::error_code problem;
  fs::rename(unfinished_ / name, path_ / name, problem);
  return !problem;
}

bool EvidenceFolder::finish(std::string_view index) {
  if (!write_whole_file((unfinished_ / evidence_index).string(), index).empty()) return false;
  std::error_code problem;
  moving_ = true;
  if (fs::exists(path_ / evidence_index, problem)) {
    fs::rename(path_ / evidence_index, unfinished_ / earlier_index, problem);
  }
  if (problem) return false;
  for (const std::string& name : written_) {
    if (!move(name)) return false;
  }
  for (const std::string& name : earlier_) {
    if (!among(written_, name)) fs::remove(path_ / name, problem);
  }
  if (!move(evidence_index)) return false;
  moving_ = false;
  return true;
}

}  // namespace detent::cli
