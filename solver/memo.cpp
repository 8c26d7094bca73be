#include "solver/memo.hpp"

#include <fmt/format.h>

#include <iterator>

#include "solver/machine.hpp"

namespace detent::solver {
namespace {

void write(const dsl::Node& node, std::string& text) {
  fmt::format_to(std::back_inserter(text), "{} {} {} {} {} {} {} {};", static_cast<int>(node.kind),
                 node.condition, node.a, node.b, node.c, node.number, node.cap, node.range.low);
}

void write(const dsl::CircuitInput& input, std::string& text) {
  fmt::format_to(std::back_inserter(text), "{} {} {} {} {};", input.name, input.condition, input.range.low,
                 input.range.high, input.step);
}

}  // namespace

std::string key_of(const dsl::Model& model, std::uint32_t claim) {
  const dsl::Claim& asked = model.claims[claim];
  const Slice slice = slice_for(model, {asked.watch});
  std::string key =
      fmt::format("{} {} {} ", asked.possible, asked.within.value_or(-1), slice.node_of[asked.watch]);
  for (const dsl::Constraint& constraint : model.constraints) {
    fmt::format_to(std::back_inserter(key), "{} ", slice.node_of[constraint.node]);
  }
  for (const dsl::Node& node : slice.circuit.nodes()) {
    write(node, key);
  }
  for (const std::size_t input : slice.inputs) {
    fmt::format_to(std::back_inserter(key), "{} ", input);
  }
  for (const dsl::CircuitInput& input : model.circuit.inputs()) {
    write(input, key);
  }
  return key;
}

std::optional<Verdict> Memo::find(const std::string& key) const {
  const std::lock_guard lock(mutex_);
  const auto found = verdicts_.find(key);
  return found == verdicts_.end() ? std::nullopt : std::optional(found->second);
}

void Memo::keep(const std::string& key, const Verdict& verdict) {
  if (verdict.outcome != Outcome::undecided) {
    const std::lock_guard lock(mutex_);
    verdicts_.try_emplace(key, verdict);
  }
}

}  // namespace detent::solver
