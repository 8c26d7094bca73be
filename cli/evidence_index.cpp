#include "cli/evidence_index.hpp"

#include <fmt/format.h>

#include <fstream>
#include <sstream>
#include <system_error>

#include "cli/digest.hpp"
#include "cli/page.hpp"

namespace detent::cli {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;

constexpr std::uintmax_t largest_file = 64U * 1024U * 1024U;

bool is_ours(const std::string& name) {
  return name.find('/') == std::string::npos &&
         (name.ends_with(".smt2") || name.ends_with(".run.json") || name.ends_with(".run.vcd"));
}

}  // namespace

std::optional<std::string> evidence_file(const fs::path& path) {
  std::error_code problem;
  if (!fs::is_regular_file(path, problem) || fs::file_size(path, problem) > largest_file) return std::nullopt;
  std::ifstream file(path, std::ios::binary);
  if (!file) return std::nullopt;
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

Json read_index(const fs::path& path) {
  const auto text = evidence_file(path);
  Json index = text ? Json::parse(*text, nullptr, false) : Json();
  const bool good = index.is_object() && index.contains("claims") && index["claims"].is_array();
  return good ? index : Json();
}

std::vector<std::string> listed_files(const Json& index) {
  std::vector<std::string> names;
  if (!index.is_object()) return names;
  for (const Json& claim : index["claims"]) {
    for (const char* list : {"proof", "run"}) {
      if (!claim.is_object() || !claim.contains(list) || !claim[list].is_array()) continue;
      for (const Json& name : claim[list]) {
        if (name.is_string() && is_ours(name.get<std::string>())) names.push_back(name.get<std::string>());
      }
    }
  }
  return names;
}

std::string objection_to_files(const fs::path& folder, const Json& index, const Json& names) {
  for (const Json& entry : names) {
    if (!entry.is_string() || !is_ours(entry.get<std::string>()))
      return "the index names a file that is none of its own";
    const std::string name = entry.get<std::string>();
    const std::string shown = printable(name, false);
    const auto text = evidence_file(folder / name);
    if (!text) return fmt::format("the file '{}' is missing", shown);
    const Json digests = index.value(digests_member, Json::object());
    if (!digests.is_object() || !digests.contains(name))
      return fmt::format("the index has no digest of the file '{}'", shown);
    if (digests[name] != sha256(*text))
      return fmt::format("the file '{}' is not the one that the index was written with", shown);
  }
  return "";
}

}  // namespace detent::cli
