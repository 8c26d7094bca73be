#include "cli/lsp/verdict_lookup.hpp"

#include <algorithm>

#include "cli/verdict_text.hpp"

namespace detent::cli::lsp {

const solver::Verdict* verdict_of(const OpenDesign& open, const dsl::Claim& claim) {
  if (!open.report || open.report->no_run_of) return nullptr;
  const auto index = &claim - open.design->compiled.model->claims.data();
  const auto& all = open.report->verdicts;
  const auto found = std::find_if(all.begin(), all.end(),
                                  [&](const solver::Verdict& verdict) { return verdict.claim == index; });
  return found == all.end() ? nullptr : &*found;
}

std::string verdict_label(const OpenDesign& open, const dsl::Claim& claim) {
  if (const solver::Verdict* verdict = verdict_of(open, claim)) {
    const std::string words = verdict_words(*open.design->compiled.model, *verdict).text;
    return verdict->vacuous ? words + ", but it says nothing" : words;
  }
  return open.ticket != 0 ? "being checked" : "";
}

}  // namespace detent::cli::lsp
