// The shards of one run, all there, each once.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "cli/result.hpp"
#include "cli/shard/shard_file.hpp"

namespace detent::cli {

struct Gathered {
  std::string name;  ///< of the file
  ShardFile file;
};

/// In the order of their numbers. A message where a file is damaged, belongs to another run, is there twice,
/// or one is missing: which, and how to mend it.
[[nodiscard]] std::variant<std::vector<Gathered>, CommandResult> gather(
    const std::vector<std::string>& files);

}  // namespace detent::cli
