// The questions behind the figures of one design. Private to the solver.
#pragma once

#include <cstddef>
#include <optional>
#include <variant>
#include <vector>

#include "dsl/side_by_side.hpp"
#include "solver/compare.hpp"
#include "solver/figures.hpp"
#include "solver/movements.hpp"

namespace detent::solver {

using FigureSearch = std::variant<Fewest, Longest>;

/// Adds what its questions need to a joined circuit. Searches refer to it: it must outlive them and stay in
/// place.
class FigureQuestions {
 public:
  FigureQuestions(dsl::Circuit& circuit, const dsl::SideBySide& both, std::size_t side,
                  const FigureConditions& conditions);

  /// Absent where a condition that the figure needs was not given.
  [[nodiscard]] std::optional<FigureSearch> search_for(FigureKind kind);

 private:
  [[nodiscard]] NodeId moved(NodeId node) const;
  [[nodiscard]] bool is_rate_limited(NodeId input) const;
  [[nodiscard]] std::vector<MovedInput> inputs() const;
  [[nodiscard]] std::vector<MovedInput> seen_inputs() const;
  [[nodiscard]] static Value at_end(const Trace& trace, NodeId node);
  /// Each bound has a counter of its own, which need not count further.
  [[nodiscard]] Fewest::Measure movements(NodeId goal, NodeId anew);
  [[nodiscard]] Fewest::Measure inputs_moved();
  [[nodiscard]] dsl::Claim at_most(NodeId goal, NodeId number, Value most);
  [[nodiscard]] Fewest::Measure duration() const;
  [[nodiscard]] Longest::Conditions restlessness();
  /// Whether the design, hands held as the run ends, comes to a standstill in which nothing is at rest.
  [[nodiscard]] bool is_endless(const Run& run, Value ticks) const;

  dsl::Circuit& circuit_;
  const dsl::SideBySide& both_;
  std::size_t side_;
  NodeId goal_, lock_, rest_;
  Movements movements_, seen_movements_;
};

}  // namespace detent::solver
