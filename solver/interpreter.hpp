// The plain reading of a circuit: concrete values, one tick after another, obvious code, no Z3.
// It is the judge of every run that an engine finds.
#pragma once

#include <vector>

#include "dsl/circuit.hpp"
#include "solver/run.hpp"

namespace detent::solver {

/// Steps a circuit tick by tick. Copyable: a copy is the same machine at the same moment.
class Interpreter {
 public:
  /// At power-up. Keeps a reference; the circuit must outlive it.
  explicit Interpreter(const dsl::Circuit& circuit);

  /// Evaluates one tick with these input values (one per Circuit::inputs(); each on its grid) and moves on.
  const std::vector<Value>& step(const std::vector<Value>& inputs);

  /// Lets quiet ticks pass after the tick last stepped: inputs held, nothing changes but clocks that count
  /// on. Only right where they are quiet (solver/quiet.hpp).
  void skip(Value ticks);

  /// Every node's value at the tick last stepped.
  [[nodiscard]] const std::vector<Value>& values() const { return values_; }

  /// What is remembered from the tick last stepped, one value per `previous` and `age` node in node order:
  /// two machines with equal memory (and at least one step each) go on alike.
  [[nodiscard]] std::vector<Value> memory() const;
  /// Whether two machines of one circuit, each stepped at least once, have equal memory.
  [[nodiscard]] bool remembers_as(const Interpreter& other) const;

 private:
  const dsl::Circuit* circuit_;
  std::vector<Value> values_;
  std::vector<Value> last_;
  bool started_ = false;
};

/// The run played from power-up on, quiet time skipped.
[[nodiscard]] Trace replay(const dsl::Circuit& circuit, const Run& run);

/// Whether the trace of the run has no more than so many values.
[[nodiscard]] bool can_be_kept(const dsl::Circuit& circuit, const Run& run, std::size_t most_values);

/// Whether every input value of the run is one that its input can take.
[[nodiscard]] bool is_well_formed(const dsl::Circuit& circuit, const Run& run);

}  // namespace detent::solver
