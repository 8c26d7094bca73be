// Questions about two designs side by side, gathered and asked together. Private to the solver.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "dsl/side_by_side.hpp"
#include "solver/compare.hpp"

namespace detent::solver {

/// Whose assumptions a question takes for granted: A's, B's or both.
enum class Scope : std::size_t { a = 0, b = 1, both = 2 };

/// Where an answer will be found.
struct Ticket {
  Scope scope = Scope::both;
  std::size_t index = 0;
};

class Asker {
 public:
  Asker(const dsl::Model& a, const dsl::Model& b, const dsl::SideBySide& both, const CompareOptions& options);

  /// The joined circuit; nodes may be added to it.
  [[nodiscard]] dsl::Circuit& circuit() { return models_[2].circuit; }

  [[nodiscard]] Ticket ask(Scope scope, dsl::Claim claim);

  /// Answers all that was asked since the last time. Every run has been played on both designs' own circuits.
  /// False where assumptions contradict each other: see contradiction().
  [[nodiscard]] bool answer();
  [[nodiscard]] const Verdict& verdict(const Ticket& ticket) const;

  [[nodiscard]] Trace replayed(const Run& run) const;
  [[nodiscard]] const std::optional<Comparison::Contradiction>& contradiction() const {
    return contradiction_;
  }
  [[nodiscard]] const Statistics& statistics() const { return statistics_; }
  [[nodiscard]] bool stopped() const;

 private:
  [[nodiscard]] bool answer(Scope scope);
  void confirm(const Run& run) const;

  std::array<const dsl::Model*, 2> designs_;
  const dsl::SideBySide& both_;
  const CompareOptions& options_;
  std::array<dsl::Model, 3> models_;  ///< by scope; the circuit and signals stand in the last
  std::array<std::vector<Verdict>, 3> verdicts_;
  std::optional<Comparison::Contradiction> contradiction_;
  Statistics statistics_;
};

}  // namespace detent::solver
