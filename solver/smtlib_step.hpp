// One step of a machine as SMT-LIB. The essay is in smtlib.cpp.
#pragma once

#include "solver/smtlib_sheet.hpp"

namespace detent::solver {

/// Defines what is remembered after a step by what is remembered before it, with all that the step can do.
/// What is remembered before it must have its symbols already (SmtNames::memory with smt_at(step)).
void write_step(SmtSheet& sheet, const SmtNames& names, const Slice& slice, const Machine& machine, int step);

}  // namespace detent::solver
