// The file that a run with --shard writes and `detent merge` reads. It is laid down in shard.schema.json, and
// told of in formats.md.
#pragma once

#include <string>
#include <string_view>

#include "cli/result.hpp"
#include "cli/shard/recorded.hpp"
#include "cli/shard/shard.hpp"

namespace detent::cli {

struct ShardFile {
  std::string command;  ///< check, faults, tune
  Shard shard = {};
  /// Everything on the command line that decides the answer, and nothing else.
  Json options = Json::object();
  /// What was read for this shard's part.
  Recording files = {};
  /// Of all that was read, by every shard alike: "" is made from `files`.
  std::string digest = {};
  Json part = Json::object();  ///< what was found
};

/// As it is printed, with a line end.
[[nodiscard]] std::string shard_text(ShardFile file);

/// The value, or what is wrong. Everything but the inside of `options` and `part` has been looked at: it is
/// whole and as it was written.
[[nodiscard]] Reading<ShardFile> read_shard_text(std::string_view text);

/// Tells two recordings apart unless they are alike: eight hexadecimal digits.
[[nodiscard]] std::string digest_of(const Recording& recording);

/// CRC-32 (IEEE 802.3) in eight hexadecimal digits.
[[nodiscard]] std::string checksum(std::string_view text);

/// The program and the solver: shards of different ones are not joined.
[[nodiscard]] Json json_versions();

/// For an option of pages that was given with --shard.
[[nodiscard]] CommandResult page_only(const std::string& option);

/// What a shard prints: the file; status undecided where a limit left something open, else all_hold, whatever
/// the verdicts are: they are told by merge.
[[nodiscard]] CommandResult shard_result(ShardFile file, bool all_decided);

}  // namespace detent::cli
