// The seal is a sum over the whole file: it finds what was cut, mangled or edited by accident. It keeps
// nobody from forging a file, and need not: whoever can do that could also print verdicts without asking
// anything.
#include "cli/shard/shard_file.hpp"

#include <fmt/format.h>

#include <boost/crc.hpp>

#include "cli/json_parts.hpp"
#include "solver/version.hpp"

namespace detent::cli {
namespace {

constexpr int shard_version = 1;
constexpr const char* again = "make this shard again";

/// The same for a document that was written and read again.
std::string compact(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string seal_of(Json json) {
  json.erase("seal");
  return checksum(compact(json));
}

Reading<ShardFile> bad(std::string problem, std::string mend = again) {
  return {.problem = std::move(problem), .mend = std::move(mend)};
}

ShardFile shard_of(const Strict& json) {
  json.only({"shard_version", "detent_version", "solver_version", "command", "shard", "options", "files",
             "digest", "part", "seal"});
  ShardFile file{.command = json.at("command").text(),
                 .shard = {},
                 .options = json.at("options").json(),
                 .files = read_recording(json.at("files")),
                 .digest = json.at("digest").text(),
                 .part = json.at("part").json()};
  const Strict shard = json.at("shard");
  shard.only({"number", "of"});
  file.shard.of = static_cast<std::size_t>(shard.at("of").whole(1, most_shards));
  const auto of = static_cast<std::int64_t>(file.shard.of);
  file.shard.number = static_cast<std::size_t>(shard.at("number").whole(1, of));
  return file;
}

std::string version_of(const Json& json, const char* name) {
  return json.contains(name) && json[name].is_string() ? json[name].get<std::string>() : "";
}

}  // namespace

std::string checksum(std::string_view text) {
  boost::crc_32_type sum;
  sum.process_bytes(text.data(), text.size());
  return fmt::format("{:08x}", sum.checksum());
}

std::string digest_of(const Recording& recording) {
  return checksum(compact(json_recording(recording)));
}

Json json_versions() {
  return {{"detent_version", DETENT_VERSION}, {"solver_version", solver::solver_version()}};
}

std::string shard_text(ShardFile file) {
  if (file.digest.empty()) file.digest = digest_of(file.files);
  Json json{{"shard_version", shard_version}};
  json.update(json_versions());
  json["command"] = file.command;
  json["shard"] = {{"number", file.shard.number}, {"of", file.shard.of}};
  json["options"] = std::move(file.options);
  json["files"] = json_recording(file.files);
  json["digest"] = file.digest;
  json["part"] = std::move(file.part);
  json["seal"] = checksum(compact(json));  // what is no UTF-8 is replaced there, so it can be read again
  return compact(json) + '\n';
}

Reading<ShardFile> read_shard_text(std::string_view text) {
  if (text.find_first_not_of(" \t\r\n") == std::string_view::npos) {
    return bad("it is empty: the run that was to write it has not ended, or was ended");
  }
  std::string twice;
  const Json json = parse_strictly(text, twice);
  if (json.is_discarded()) return bad("it is cut or damaged: what is left of it is no JSON");
  if (!twice.empty())
    return bad(fmt::format("the member '{}' stands twice in one object", twice.substr(0, 80)));
  if (!json.is_object() || !json.contains("shard_version") || !json.contains("seal")) {
    return bad("it is JSON, but no shard", "give what detent check, faults or tune print with --shard K/N");
  }
  if (json["shard_version"] != Json(shard_version)) {
    return bad("it has a form that this version of detent does not know",
               "merge with the version that wrote it");
  }
  const Json versions = json_versions();
  for (const auto& [name, own] : versions.items()) {
    const std::string seen = version_of(json, name.c_str());
    if (seen == own.get<std::string>()) continue;
    return bad(fmt::format("it was made with {} '{}', and this is '{}'", name, seen, own.get<std::string>()),
               "make all shards with one version, and merge with the same");
  }
  if (json["seal"] != Json(seal_of(json))) return bad("it is damaged, or was changed after it was written");
  try {
    return {.value = shard_of(Strict(json))};
  } catch (const Misfit& misfit) {
    return bad(misfit.what);
  }
}

CommandResult page_only(const std::string& option) {
  return usage_error(option + " is about the page, and a shard has none",
                     fmt::format("give it to detent merge: detent merge shards/*.json {}", option));
}

CommandResult shard_result(ShardFile file, bool all_decided) {
  return {.output = shard_text(std::move(file)),
          .status = all_decided ? Status::all_hold : Status::undecided};
}

}  // namespace detent::cli
