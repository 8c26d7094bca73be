// An altered design that still holds a piece of the original beside what was altered: a twin of an element is
// the element as it was written, computed from the inputs as they really are.
#pragma once

#include <vector>

#include "dsl/alter.hpp"
#include "dsl/design.hpp"

namespace detent::dsl {

/// Whether an element is a name for how the hands stand, or stood: a signal, delay, linger or pulse that is
/// made of inputs alone (and of other such names), and that either further elements, not only outputs, build
/// on, or that no output depends on (it only helps to say claims). One entry for each element.
[[nodiscard]] std::vector<bool> names_for_hands(const Design& design);

/// The design with these faults, at most one for each element. Claims and assumptions stay as they are and
/// speak of what the hands really do: where they name an input, and where they name a name for how the hands
/// stand, of which a twin is added ("real idle") where the faults would touch it. Of all else they tell what
/// the faulty design does.
[[nodiscard]] Design with_faults(const Design& design, const std::vector<Alteration>& faults);

/// The altered design and the original side by side, on the same inputs, with one claim in the place of all
/// others: every output (where there is none: every element that a claim names) is always the same in both.
[[nodiscard]] Design beside_original(const Design& design, const Alteration& alteration);

}  // namespace detent::dsl
