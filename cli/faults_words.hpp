// What a study of faults comes to, in sentences: for the page of the terminal and the one to show.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "cli/fault_study.hpp"
#include "cli/page.hpp"

namespace detent::cli {

/// The claims that are looked at and are not of the form `possible`: the columns of the table.
[[nodiscard]] std::vector<std::uint32_t> safety_claims(const dsl::Model& model, const FaultStudy& study);

/// What was looked at, and what a claim means of a broken input. `allowed`: how long each claim could take.
[[nodiscard]] std::vector<Span> faults_reach_words(const FaultStudy& study, const std::string& allowed);

/// A sentence for each claim that does not hold without a fault, and one where no claim is left.
[[nodiscard]] std::vector<Span> not_looked_at_words(const dsl::Model& model, const FaultStudy& study);

/// When the claim breaks with these faults ("0.01 s"), "?" where that is undecided, and "" where it still
/// holds: a page says that with as little ink as it can.
[[nodiscard]] Span fault_cell_words(const dsl::Model& model, const FaultCase& one, std::uint32_t claim);

/// What should be possible and is prevented by a fault; a sentence for each claim.
[[nodiscard]] std::vector<Span> nuisance_words(const dsl::Model& model, const FaultStudy& study);

/// How many faults are survived, what falls first, and what all this is no replacement for.
[[nodiscard]] std::vector<Span> faults_summary_words(const dsl::Model& model, const FaultStudy& study);

}  // namespace detent::cli
