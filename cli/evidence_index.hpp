// The index of a folder of evidence: which files there are, and by what each is known again.
#pragma once

#include <filesystem>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

namespace detent::cli {

/// The name of the index, and its member with the SHA-256 of each file, by name.
inline constexpr const char* evidence_index = "index.json";
inline constexpr const char* digests_member = "sha256";

/// The text of a plain file of at most 64 MiB, or nothing.
[[nodiscard]] std::optional<std::string> evidence_file(const std::filesystem::path& path);

/// The index in this file; null if there is none that has a list of claims.
[[nodiscard]] nlohmann::json read_index(const std::filesystem::path& path);

/// The files of all claims, as far as their names are such as `check --evidence` gives: in the folder itself,
/// with an ending of ours.
[[nodiscard]] std::vector<std::string> listed_files(const nlohmann::json& index);

/// The first of these files that is missing, or is not the one that the index was written with; in words, ""
/// if all are right. `names` is a list of the index.
[[nodiscard]] std::string objection_to_files(const std::filesystem::path& folder, const nlohmann::json& index,
                                             const nlohmann::json& names);

}  // namespace detent::cli
