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

/// What a diagram shows, in order of declaration: what the claim names, and what moves in this run and has a
/// bearing on it. With `all`: every signal.
[[nodiscard]] std::vector<std::uint32_t> shown_signals(const dsl::Model& model, const solver::Trace& trace,
                                                       const dsl::Claim& claim, bool all);

}  // namespace detent::cli
