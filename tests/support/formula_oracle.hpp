// The claim forms by their formulas alone: for each, the tick at which a row of P and Q has certainly broken
// it. Written from the formulas that stand beside the forms in dsl/tree.hpp, not from the monitors.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "dsl/tree.hpp"

namespace detent::test {

struct Letter {
  bool p = false;
  bool q = false;
};
using Word = std::vector<Letter>;

/// Whether the infinite row that begins with `word` and repeats its last letter for ever satisfies the
/// formula. T is in ticks. The word is not empty; the form is no `possible`.
[[nodiscard]] bool satisfies(dsl::ClaimForm form, int ticks, const Word& word);

/// The first tick n such that no continuation of word[0..n] satisfies the formula.
[[nodiscard]] std::optional<std::size_t> certainly_broken_at(dsl::ClaimForm form, int ticks,
                                                             const Word& word);

}  // namespace detent::test
