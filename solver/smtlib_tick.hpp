// One tick of a circuit as SMT-LIB: what a step and a run written out tick by tick have in common.
#pragma once

#include <functional>
#include <string>

#include "solver/smtlib_sheet.hpp"

namespace detent::solver {

/// What a node that remembers nothing computes, with its operands as `operand` calls them; "" for others.
[[nodiscard]] std::string smt_gate(const dsl::Node& node, const std::function<std::string(NodeId)>& operand);

/// That `name` is one of the values that the input can take.
void keep_on_grid(SmtSheet& sheet, const std::string& name, const dsl::CircuitInput& input);

/// Declares the inputs of a tick whose symbols end in `here`, and defines every other node by them and by
/// what is remembered before it (SmtNames::memory with `here`), which must have its symbols already.
void write_tick(SmtSheet& sheet, const SmtNames& names, const Slice& slice, const std::string& here);

}  // namespace detent::solver
