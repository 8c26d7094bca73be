// A folder that holds the evidence of one check, whole, or of none: what is there stays until all that is to
// come in its place is on the disk.
#pragma once

#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

namespace detent::cli {

class EvidenceFolder {
 public:
  explicit EvidenceFolder(std::filesystem::path path);
  EvidenceFolder(const EvidenceFolder&) = delete;
  EvidenceFolder& operator=(const EvidenceFolder&) = delete;
  /// Takes away what was written and not put in place.
  ~EvidenceFolder();

  /// Makes the folder if it is missing, waits up to 10 s for another check that writes there, and clears what
  /// a check that was ended has left. False where that can't be done. To be called first.
  [[nodiscard]] bool open();
  /// Writes a file beside what is there.
  [[nodiscard]] bool write(const std::string& name, std::string_view text);
  /// The SHA-256 of each file that was written.
  [[nodiscard]] const nlohmann::json& digests() const { return digests_; }
  /// Puts all that was written in place of what was there, the index last.
  [[nodiscard]] bool finish(std::string_view index);

 private:
  void clear_unfinished();
  [[nodiscard]] bool move(const std::string& name) const;

  std::filesystem::path path_, unfinished_;
  std::vector<std::string> written_, earlier_;
  nlohmann::json digests_ = nlohmann::json::object();
  int lock_ = -1;
  bool opened_ = false, moving_ = false;
};

}  // namespace detent::cli
