// Formulas of linear temporal logic as a page writes them, read and evaluated by definition on rows that end
// in one letter for ever. Written without any look at the language or at its monitors.
//
//   ¬ X Y F G (bind tightest, each may carry bounds in ticks: F[0,T], G[0,T-1]); U W; ∧; ∨; → (loosest)
//   O[0,T] a   a now or at most T ticks ago      Y a   a one tick ago, false in tick 0
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

namespace detent::test {

class TemporalFormula {
 public:
  /// Conditions are single capital letters; T in bounds is `ticks`. Throws std::runtime_error with the place
  /// where the text is no formula.
  TemporalFormula(const std::string& text, int ticks);
  ~TemporalFormula();
  TemporalFormula(TemporalFormula&&) noexcept;

  /// The letters that occur, sorted: "PQR".
  [[nodiscard]] const std::string& letters() const { return letters_; }

  /// One mask a tick (bit i: letters()[i] is true), at most 10 of them; the last is repeated for ever.
  [[nodiscard]] bool holds(const std::vector<std::uint32_t>& row) const;

  /// Whether no continuation of the row satisfies the formula. As a row is taken for bad when none of its
  /// continuations by two letters, the second repeated for ever, is good, it must not be longer than 8.
  [[nodiscard]] bool is_lost(const std::vector<std::uint32_t>& row) const;

  struct Node;

 private:
  std::unique_ptr<Node> root_;
  std::string letters_;
  mutable std::uint32_t last_good_ = 0;  ///< the continuation that was good last: likely to be so again
};

}  // namespace detent::test
