// What a study of tunables found, in sentences: for the page of the terminal and the one to show.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "cli/page.hpp"
#include "cli/tune_study.hpp"

namespace detent::cli {

/// "holds", "FAILS", "undecided", …
[[nodiscard]] Span standing_words(solver::Standing standing);

[[nodiscard]] std::string tune_reach_words(const TuneResult& result);

/// The verdict on the claim that fails at a point, as `check` would give it for that design.
[[nodiscard]] solver::Verdict failure_at(const TuneStudy& study, std::size_t point);

/// The words of one study; both must outlive it.
class TuneTelling {
 public:
  TuneTelling(const dsl::Compiled& compiled, const TuneStudy& study)
      : compiled_(compiled), model_(*compiled.model), study_(study) {}

  [[nodiscard]] std::string point(std::size_t point) const;
  /// "Written 3 s; looked at 1 s to 15 s in steps of 50 ms: 281 values."
  [[nodiscard]] std::string axis(const TuneAxis& axis) const;
  /// At how many values all claims hold; then what is left open.
  [[nodiscard]] std::vector<Span> answer() const;
  /// Claims that hold at some values only because there is nothing that they could be broken by; a sentence
  /// each.
  [[nodiscard]] std::vector<Span> vacuous() const;
  /// "500 ms to 1.2 s"
  [[nodiscard]] std::string interval(const TuneInterval& one) const;
  /// How many values, and what breaks there, or why it is no design.
  [[nodiscard]] std::string remark(const TuneInterval& one) const;
  /// Of two tunables: values of the first, and for which of the second all claims hold; the first row says
  /// so.
  [[nodiscard]] std::vector<std::pair<std::string, std::string>> table() const;
  /// An edge, and what there is on either side of it.
  [[nodiscard]] Span edge(const solver::Edge& edge) const;
  /// `with_how`: also for how many values at once it was proved, which hangs on the order of the questions.
  [[nodiscard]] Span inside(const solver::Edge& edge, bool with_how = false) const;
  [[nodiscard]] Span outside(const solver::Edge& edge) const;
  /// How many edges are not told.
  [[nodiscard]] Span more_edges() const;

 private:
  [[nodiscard]] std::size_t count(solver::Standing standing) const;
  void add_undecided(std::vector<Span>& said) const;
  [[nodiscard]] std::string row(std::size_t row) const;
  const dsl::Compiled& compiled_;
  const dsl::Model& model_;
  const TuneStudy& study_;
};

}  // namespace detent::cli
