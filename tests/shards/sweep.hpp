// One run, and the same in shards, as a user would have them.
#pragma once

#include <functional>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tests/support/folder.hpp"
#include "tests/support/process.hpp"

namespace detent::test {

/// `words` with --shard 1/N to --shard N/N, each written to a file in the folder. The files' paths.
[[nodiscard]] std::vector<std::string> write_shards(const Folder& folder,
                                                    const std::vector<std::string>& words, std::size_t of);

/// `detent merge` of these files.
[[nodiscard]] ProcessResult merged(const std::vector<std::string>& files,
                                   const std::vector<std::string>& more = {});

/// A report of check, faults or tune without what a run and its shards need not have alike: what it cost, and
/// of tune by what a value was decided.
[[nodiscard]] nlohmann::json comparable(const std::string& report);

/// Checks that text, JSON and exit status of the shards, joined, are those of one run.
void check_same(const std::vector<std::string>& words, const std::vector<std::size_t>& counts);

[[nodiscard]] std::string text_of(const std::string& file);
/// A shard with one thing changed, and a seal that fits: what only a reader that looks at everything notices.
[[nodiscard]] std::string resealed(const std::string& shard,
                                   const std::function<void(nlohmann::ordered_json&)>& change);

}  // namespace detent::test
