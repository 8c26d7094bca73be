// Small random circuits, from a seed, for holding two readings of a circuit against each other.
// To see one: dsl::to_text(circuit).
#pragma once

#include <cstdint>
#include <vector>

#include "dsl/circuit.hpp"
#include "solver/run.hpp"
#include "tests/support/chance.hpp"

namespace detent::test {

struct RandomCircuit {
  dsl::Circuit circuit;                  ///< finished; every number in it is bounded
  std::vector<dsl::NodeId> conditions;   ///< all its conditions that are not constant
  std::vector<dsl::NodeId> constraints;  ///< some of them, which hold often
};

/// All node kinds, loops through `previous` of conditions and of numbers, ages that are compared and ages
/// that are counted with, levels below zero and with steps. Few enough inputs and states to look at all of
/// them.
[[nodiscard]] RandomCircuit random_circuit(std::uint64_t seed);

/// Any inputs at all, for so many ticks.
[[nodiscard]] solver::Run random_run(const dsl::Circuit& circuit, std::size_t ticks, Chance& chance);

/// All that one tick's inputs can be.
[[nodiscard]] std::vector<std::vector<dsl::Value>> all_rows(const dsl::Circuit& circuit);

}  // namespace detent::test
