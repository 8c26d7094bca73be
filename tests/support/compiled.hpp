// From the text of a small design to something that a test can feed and read, in rows of digits.
#pragma once

#include <map>
#include <string>

#include "dsl/model.hpp"
#include "solver/run.hpp"

namespace detent::test {

/// The model of a text; throws std::runtime_error with the messages where there is any error.
[[nodiscard]] dsl::Model compiled(const std::string& text);

/// Throws std::runtime_error where there is none of this name.
[[nodiscard]] const dsl::Signal& signal_named(const dsl::Model& model, const std::string& name);
[[nodiscard]] const dsl::Claim& claim_named(const dsl::Model& model, const std::string& name);

/// One digit per tick for each input: {"in", "0110"}. Inputs that are not named stay at their lowest value.
using Rows = std::map<std::string, std::string>;
[[nodiscard]] solver::Run run_of(const dsl::Model& model, const Rows& rows);

/// What a signal did, one digit per tick (values from 0 to 9 only).
[[nodiscard]] std::string row_of(const dsl::Model& model, const solver::Trace& trace,
                                 const std::string& name);

/// run_of, replay and row_of in one.
[[nodiscard]] std::string answer(const std::string& text, const Rows& rows, const std::string& name);

}  // namespace detent::test
