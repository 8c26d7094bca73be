#include "cli/shard/gather.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <utility>

#include "cli/reader.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using Problem = std::optional<CommandResult>;

/// Runs of many faults are long; more than that is no shard of ours.
constexpr std::size_t largest_shard_bytes = std::size_t{512} * 1024 * 1024;
constexpr std::size_t most_named = 20;

std::variant<Gathered, CommandResult> read_one(const std::string& name) {
  const dsl::FileText text = read_plain_file(name, largest_shard_bytes);
  if (!text.text) {
    return usage_error(fmt::format("{} {}", name, text.problem),
                       "name the files that --shard K/N has written");
  }
  Reading<ShardFile> read = read_shard_text(*text.text);
  if (!read.value) return usage_error(fmt::format("{}: {}", name, read.problem), read.mend);
  return Gathered{name, std::move(*read.value)};
}

/// What two shards of one run have alike; the first thing in which they differ.
std::string difference(const ShardFile& one, const ShardFile& other) {
  if (one.command != other.command) {
    return fmt::format("one is of detent {}, the other of detent {}", one.command, other.command);
  }
  if (one.shard.of != other.shard.of) {
    return fmt::format("one is of {} shards, the other of {}", one.shard.of, other.shard.of);
  }
  for (const char* name : {"file", "files"}) {
    if (one.options.contains(name) != other.options.contains(name)) return "they are of other designs";
    if (one.options.contains(name) && one.options[name] != other.options[name])
      return "they are of other designs";
  }
  if (one.options != other.options) return "their options differ";
  for (const auto& [name, text] : one.files) {
    const auto same = other.files.find(name);
    if (same != other.files.end() && same->second.text != text.text) {
      return fmt::format("{} has another text in one than in the other", name);
    }
  }
  return one.digest == other.digest ? "" : "the texts of the designs differ";
}

Problem try_alike(const std::vector<Gathered>& all) {
  for (const Gathered& one : all) {
    const std::string how = difference(all.front().file, one.file);
    if (how.empty()) continue;
    return usage_error(
        fmt::format("{} and {} are shards of different runs: {}", all.front().name, one.name, how),
        "give the shards of one run, made from the same texts with the same options");
  }
  return std::nullopt;
}

Problem try_once_each(const std::vector<Gathered>& all) {
  std::map<std::size_t, std::string> seen;
  for (const Gathered& one : all) {
    const auto [before, fresh] = seen.try_emplace(one.file.shard.number, one.name);
    if (fresh) continue;
    return usage_error(
        fmt::format("shard {} is there twice: {} and {}", one.file.shard.text(), before->second, one.name),
        "give each shard once");
  }
  const std::size_t of = all.front().file.shard.of;
  std::vector<std::string> missing;
  std::string first;
  for (std::size_t number = 1; number <= of && seen.size() < of; ++number) {
    if (seen.contains(number)) continue;
    if (missing.empty()) first = Shard{number, of}.text();
    missing.push_back(Shard{number, of}.text());
  }
  if (missing.empty()) return std::nullopt;
  const std::size_t count = missing.size();
  const std::string more = count > most_named ? fmt::format(" and {} more", count - most_named) : "";
  missing.resize(std::min(count, most_named));
  return usage_error(
      fmt::format("of {} shards {} {} missing: {}{}", of, count, count == 1 ? "is" : "are",
                  more.empty() ? list_words(missing) : fmt::format("{}", fmt::join(missing, ", ")), more),
      fmt::format("run what is missing, for example with --shard {}, and name all files", first));
}

}  // namespace

std::variant<std::vector<Gathered>, CommandResult> gather(const std::vector<std::string>& files) {
  std::vector<Gathered> all;
  for (const std::string& name : files) {
    auto read = read_one(name);
    if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
    all.push_back(std::move(std::get<Gathered>(read)));
  }
  if (Problem problem = try_alike(all)) return std::move(*problem);
  if (Problem problem = try_once_each(all)) return std::move(*problem);
  std::sort(all.begin(), all.end(), [](const Gathered& one, const Gathered& other) {
    return one.file.shard.number < other.file.shard.number;
  });
  return all;
}

}  // namespace detent::cli
