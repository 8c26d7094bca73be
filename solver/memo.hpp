// What has been decided of one circuit holds for every other that is the same, node by node.
#pragma once

#include <cstdint>
#include <map>
#include <mutex>
#include <optional>
#include <string>

#include "dsl/model.hpp"
#include "solver/verdict.hpp"

namespace detent::solver {

/// The slice that a claim and the constraints look at, written out, and the inputs of the whole model: two
/// claims with the same key have the same verdicts, and the same runs.
[[nodiscard]] std::string key_of(const dsl::Model& model, std::uint32_t claim);

/// Verdicts by key. May be used from several threads.
class Memo {
 public:
  /// What was kept for this key.
  [[nodiscard]] std::optional<Verdict> find(const std::string& key) const;
  /// Keeps what is decided; what is not may be decided with more patience.
  void keep(const std::string& key, const Verdict& verdict);

 private:
  mutable std::mutex mutex_;
  std::map<std::string, Verdict> verdicts_;
};

}  // namespace detent::solver
