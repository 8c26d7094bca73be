// A verdict in words: the word that counts first, never without how far it reaches.
#pragma once

#include <string>

#include "cli/page.hpp"
#include "dsl/model.hpp"
#include "dsl/source.hpp"
#include "solver/verdict.hpp"

namespace detent::cli {

/// "proved up to 850 ticks (17 s)", "REFUTED by a run of 402 ticks (8.04 s)", …
[[nodiscard]] Span verdict_words(const dsl::Model& model, const solver::Verdict& verdict);

/// Why it is undecided, that it says nothing, or why there is no run to show; "" where there is nothing to
/// add.
[[nodiscard]] std::string remark_words(const dsl::Model& model, const solver::Verdict& verdict);

/// "5 claims: 3 proved up to 850 ticks (17 s), 1 refuted, 1 undecided".
[[nodiscard]] std::string summary_words(const dsl::Model& model, const solver::Report& report);

struct BlockWishes {
  bool all_signals = false;
  bool head = true;  ///< verdict, name and place
};

/// The whole block of one claim: verdict, name, place, sentence, claim, remark, story and diagram.
[[nodiscard]] Page verdict_block(const dsl::Model& model, const dsl::Sources& sources,
                                 const solver::Verdict& verdict, const BlockWishes& wishes,
                                 const Terminal& terminal);

}  // namespace detent::cli
