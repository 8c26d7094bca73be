// The form of a proof's three questions (solver/smtlib.hpp): what else may stand in them, which is nothing.
#pragma once

#include <array>
#include <optional>
#include <string>

namespace detent::cli {

/// The texts of the three questions, in the order start, step, claim.
using ProofTexts = std::array<std::string, 3>;

/// What is wrong with the three as one proof, in words, or nothing.
///
/// Guarded: all three have the same declarations, the same invariant and the same step; the steps after the
/// first are the first one moved on in time; beside these stand only the sentences that make the texts the
/// three questions of a proof, each once and in its place; the invariant speaks of what is remembered and of
/// nothing else. Not guarded, as the design is not at hand: that the step, the values remembered before
/// tick 0 and the condition that must not come true are those of the design.
[[nodiscard]] std::optional<std::string> objection_to_form(const ProofTexts& texts);

/// One question more, made of the texts of a proof whose form is good: can the first step be taken at all
/// from the start? Its answer must be `sat`, as from a step that contradicts itself everything follows.
[[nodiscard]] std::string first_step_question(const ProofTexts& texts);

}  // namespace detent::cli
