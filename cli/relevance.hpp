// Which signals have a bearing on a claim, and which of them are worth a reader's time in one run.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "dsl/model.hpp"
#include "solver/run.hpp"

namespace detent::cli {

/// For every node, whether `root` depends on it, now or through what it remembers.
[[nodiscard]] std::vector<bool> cone(const dsl::Circuit& circuit, dsl::NodeId root);

/// The signals that the claim names, as they are to be told, without repetitions, in order of declaration.
[[nodiscard]] std::vector<std::uint32_t> mentioned(const dsl::Model& model, const solver::Trace& trace,
                                                   const dsl::Claim& claim);

/// For every signal, whether it is the input that says if edges count at power-up: it is told in words once.
[[nodiscard]] bool is_power_up_choice(const dsl::Model& model, std::uint32_t signal);

/// For "thrust received", what the hand does with thrust; nothing for every other signal.
[[nodiscard]] std::optional<std::uint32_t> hand_behind(const dsl::Model& model, std::uint32_t signal);

/// The signal to speak of: the hand's where what is received equals it in the whole run.
[[nodiscard]] std::uint32_t told_signal(const dsl::Model& model, const solver::Trace& trace,
                                        std::uint32_t signal);

[[nodiscard]] bool changes(const dsl::Model& model, const solver::Trace& trace, std::uint32_t signal);

/// Whether a hand stands where a reader expects it to: button released, link there, switch at its first
/// position, level at 0.
[[nodiscard]] bool is_at_rest(const dsl::Signal& signal, dsl::Value value);

/// For every signal, whether it is one of `names` or led to what `root` is in the last tick; told as
/// told_signal() says.
[[nodiscard]] std::vector<bool> relevant_signals(const dsl::Model& model, const solver::Trace& trace,
                                                 dsl::NodeId root, const std::vector<std::uint32_t>& names);

/// Leaves out the elements inside parts that move where nothing else does: their inner workings would only
/// add moments. What is among `names` stays.
void drop_inner_workings(const dsl::Model& model, const solver::Trace& trace,
                         const std::vector<std::uint32_t>& names, std::vector<std::uint32_t>& signals);

/// Hands as declared, then what the design computes in the order in which it does: causes before effects.
void sort_for_telling(const dsl::Model& model, std::vector<std::uint32_t>& signals);

/// What a diagram shows, in the order of telling: what the claim names, what led to its end and moves or
/// stands elsewhere than at rest, and every hand that has a bearing on it and moves. With `all`: every
/// signal.
[[nodiscard]] std::vector<std::uint32_t> shown_signals(const dsl::Model& model, const solver::Trace& trace,
                                                       const dsl::Claim& claim, bool all);

}  // namespace detent::cli
