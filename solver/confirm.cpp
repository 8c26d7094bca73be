#include "solver/confirm.hpp"

#include "solver/interpreter.hpp"

namespace detent::solver {

bool is_confirmed(const dsl::Model& model, const Run& run, dsl::NodeId condition) {
  if (!is_well_formed(model.circuit, run)) return false;
  const Trace trace = replay(model.circuit, run);
  if (trace.at(trace.ticks() - 1, condition) == 0) return false;
  for (const Trace::Moment& moment : trace.moments()) {
    for (const dsl::Constraint& constraint : model.constraints) {
      if (moment.values[constraint.node] == 0) return false;
    }
  }
  return true;
}

}  // namespace detent::solver
