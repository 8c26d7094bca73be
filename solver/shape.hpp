// What a claim looks at, with its numbers apart from the rest. Private to the solver.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "dsl/model.hpp"
#include "solver/machine.hpp"

namespace detent::solver {

/// The slice that a claim looks at, with its numbers apart from the rest.
struct Shape {
  std::string form = {};                ///< all but the numbers
  std::vector<Value> numbers = {};      ///< constants and starting values, in the order of the nodes
  std::vector<dsl::Range> ranges = {};  ///< of what is remembered
};
[[nodiscard]] Shape shape_of(const dsl::Model& model, std::uint32_t claim);

/// Whether a node is a number that is written out, and whether it has one beside its operands (a starting
/// value).
[[nodiscard]] bool is_number(const dsl::Node& node);
[[nodiscard]] bool has_number_of_its_own(const dsl::Node& node);

/// Operands, a number last where the order says nothing.
[[nodiscard]] std::array<NodeId, 3> operands_of(const dsl::Circuit& circuit, const dsl::Node& node);

/// Calls `visit(node, slot)` for every number, in the order of Shape::numbers: the operand in that slot, or
/// (slot 3) the node's own.
void each_number(const dsl::Circuit& circuit, const std::function<void(NodeId, std::size_t)>& visit);
[[nodiscard]] Value number_at(const dsl::Circuit& circuit, NodeId id, std::size_t slot);

}  // namespace detent::solver
