// What a study of gaps comes to, in sentences: for the page of the terminal and the one to show.
#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <vector>

#include "cli/gap_study.hpp"
#include "cli/page.hpp"
#include "dsl/front.hpp"

namespace detent::cli {

/// How many slips have this fate.
[[nodiscard]] std::size_t count_of(const GapStudy& study, Slip::Fate fate);

/// The fates of which each slip is listed, in the order of telling.
inline constexpr std::array<Slip::Fate, 3> told_fates{Slip::Fate::gap, Slip::Fate::undecided,
                                                      Slip::Fate::no_effect};

/// The sentence above the slips of such a fate.
[[nodiscard]] Span fate_words(Slip::Fate fate);

/// What was looked at. `allowed`: how long each claim could take, in words.
[[nodiscard]] Span gaps_reach_words(const GapStudy& study, const std::string& allowed);

/// A sentence for each claim that does not hold as the design stands.
[[nodiscard]] std::vector<Span> claims_that_notice_nothing(const dsl::Model& model, const GapStudy& study);

/// On claims that add nothing, assumptions that no proof needs, and odd power-ups; a sentence each.
[[nodiscard]] std::vector<Span> gap_remarks(const dsl::Compiled& compiled, const GapStudy& study);

/// "31 small changes: 14 noticed, 16 nobody would notice, 1 without effect"
[[nodiscard]] Span gaps_summary_words(const GapStudy& study);

/// What a gap is, and is not.
[[nodiscard]] std::string gap_caution();

}  // namespace detent::cli
