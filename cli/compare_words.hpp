// What a comparison found, in sentences, and which runs show it: for the page of the terminal and the one to
// show.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "cli/compare_result.hpp"
#include "cli/compare_run.hpp"
#include "cli/page.hpp"

namespace detent::cli {

/// "A" or "B".
[[nodiscard]] const char* side_letter(std::size_t side);

/// How long a tick is, and what was looked at.
[[nodiscard]] std::string compare_reach_words(const CompareResult& result);

/// What is moved together, compared, left out and assumed; a line each.
struct MatchLine {
  std::string what;  ///< "moved together"
  Span words;
};
[[nodiscard]] std::vector<MatchLine> match_lines(const CompareResult& result);

/// The signals that part or are undecided, outputs first.
[[nodiscard]] std::vector<const solver::SignalAnswer*> not_the_same(const CompareResult& result);

/// "output jet", or both names where they differ.
[[nodiscard]] std::string compared_name(const CompareResult& result, const solver::SignalAnswer& answer);

/// The names of all that is proved the same.
[[nodiscard]] std::vector<std::string> names_of_the_same(const CompareResult& result);

/// "A above B: in a run of 2 ticks (tick 0 to 1)"
[[nodiscard]] Span parting_words(const CompareResult& result, const solver::SignalAnswer& answer,
                                 std::size_t way);
/// The run that parts them in this way, if there is one.
[[nodiscard]] std::optional<SharedRun> parting_run(const CompareResult& result,
                                                   const solver::SignalAnswer& answer, std::size_t way);

/// The answer of one design to a claim, or why it was not asked.
[[nodiscard]] Span claim_answer_words(const CompareResult& result, std::size_t row, std::size_t side);

/// Whether both were asked, and answer otherwise. Where they answer alike, detent check shows the run of
/// each.
[[nodiscard]] bool answers_differ(const CompareResult& result, std::size_t row);

/// The run of a claim in one of the designs, if it has one.
[[nodiscard]] std::optional<SharedRun> claim_run(const CompareResult& result, std::size_t row,
                                                 std::size_t side);

/// What it comes to: one sentence, and another where something is undecided.
[[nodiscard]] std::vector<Span> compare_summary_words(const CompareResult& result);

}  // namespace detent::cli
