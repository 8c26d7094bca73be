// Copying nodes from one circuit into another, where the same expression becomes the same node.
#pragma once

#include <cstddef>
#include <functional>
#include <vector>

#include "dsl/circuit.hpp"

namespace detent::dsl {

/// What a copy needs to be told.
struct CopyPlan {
  /// The node that stands for an input of the original, by its index.
  std::function<NodeId(std::size_t input)> input;
  /// The node that stands for a `previous` of the original whose operand comes later: often a new one, from
  /// Circuit::open_previous, which the caller connects afterwards.
  std::function<NodeId(NodeId loop)> loop;
  /// By node of the original; empty: all. What a wanted node depends on must be wanted too.
  std::vector<bool> wanted = {};
};

/// For every node of `from` its copy in `to`, or no_node where it was not wanted. A clock of the copy counts
/// only as far as somebody there looks.
[[nodiscard]] std::vector<NodeId> copy_nodes(const Circuit& from, Circuit& to, const CopyPlan& plan);

}  // namespace detent::dsl
