// To which line of a design each node of its circuit belongs.
#pragma once

#include <cstdint>
#include <vector>

#include "dsl/model.hpp"
#include "solver/slice.hpp"

namespace detent::cli {

struct NodeOwner {
  enum class Kind : std::uint8_t { none, signal, constraint, claim };
  Kind kind = Kind::none;
  std::uint32_t index = 0;  ///< into the model's list of that kind
  /// Needed only for what is remembered for the next tick, so that it may look at elements that come later.
  bool for_next_tick = false;
  friend bool operator==(const NodeOwner&, const NodeOwner&) = default;
};

/// By node of the whole circuit, for those that stand in the slice (others are nobody's). A node that several
/// look at belongs to the first of them in the order of evaluation: signals, then constraints, then the claim
/// and what else is asked about.
[[nodiscard]] std::vector<NodeOwner> node_owners(const dsl::Model& model, std::uint32_t claim,
                                                 const std::vector<dsl::NodeId>& asked,
                                                 const solver::Slice& slice);

/// The signals that stand in the slice, in that order, as indices.
[[nodiscard]] std::vector<std::uint32_t> by_evaluation(const dsl::Model& model, const solver::Slice& slice);

}  // namespace detent::cli
