// A small design and runs of it, for the tests of what a person reads.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "dsl/front.hpp"
#include "solver/interpreter.hpp"
#include "solver/verdict.hpp"

namespace detent::test {

/// The design that most tests tell stories of: a boat's thrust, armed by a guard within a window of time.
[[nodiscard]] const std::string& boat_text();

/// Compiles a text that has no mistakes; its one main file is called boat.detent.
[[nodiscard]] dsl::Compiled compiled_text(const std::string& text);

/// What hands do: at a tick, an input takes a value. Inputs start at the lowest value they can have.
struct Hand {
  dsl::Value tick = 0;
  std::string input;
  dsl::Value value = 0;
};
[[nodiscard]] solver::Run run_of(const dsl::Model& model, dsl::Value ticks, const std::vector<Hand>& hands);

[[nodiscard]] std::uint32_t claim_named(const dsl::Model& model, const std::string& name);

/// A verdict on a claim with a run whose last tick is the one in which the claim's watch is true; fails the
/// test if it is not.
[[nodiscard]] solver::Verdict verdict_by(const dsl::Model& model, const std::string& claim, solver::Run run);

}  // namespace detent::test
