#include "cli/compare_claims.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/breakage.hpp"
#include "cli/verdict_text.hpp"
#include "cli/words.hpp"
#include "solver/interpreter.hpp"

namespace detent::cli {
namespace {

using dsl::side_a;
using dsl::side_b;
using solver::Verdict;

constexpr const char* indent = "    ";

/// Signals of the other design that stand beside those that the claim names.
void add_counterparts(const CompareResult& result, std::size_t side, std::vector<std::uint32_t>& names) {
  const dsl::SideBySide& both = *result.both;
  const std::vector<std::uint32_t> own = names;
  for (const dsl::Compared& one : both.compared) {
    const std::uint32_t here = both.signal_of[side][side == side_a ? one.pair.a : one.pair.b];
    const std::uint32_t there = both.signal_of[1 - side][side == side_a ? one.pair.b : one.pair.a];
    if (here != there && std::find(own.begin(), own.end(), here) != own.end()) names.push_back(there);
  }
}

void add_claim_run(Page& page, const CompareResult& result, std::size_t side, const Verdict& verdict,
                   const CompareWishes& wishes, const Terminal& terminal) {
  const dsl::Claim claim = dsl::claim_beside(*result.both, side, result.model(side).claims[verdict.claim]);
  const dsl::Model& model = result.both->model;
  const solver::Trace trace = solver::replay(model.circuit, *verdict.run);
  SharedRun shared{.model = model, .run = *verdict.run, .about = claim.watch, .names = claim.first.mentions};
  if (claim.second) {
    shared.names.insert(shared.names.end(), claim.second->mentions.begin(), claim.second->mentions.end());
  }
  add_counterparts(result, side, shared.names);
  shared.ending = break_words(model, claim, trace);
  shared.mark = claim.possible ? "done here" : "broken here";
  shared.mark_style = claim.possible ? Style::good : Style::bad;
  shared.all_signals = wishes.all_signals;
  page.push_back({});
  add_page(page, shared_run_page(shared, std::string(indent) + indent, terminal));
}

Span answer_words(const CompareResult& result, std::size_t row, std::size_t side) {
  const auto& verdict = result.comparison->claims[row][side];
  if (!verdict) return {"not asked: " + result.claims[row].why_not[side], Style::unsure};
  Span words = verdict_words(result.model(side), *verdict);
  if (verdict->vacuous) words.text += " (it says nothing: its condition never comes true)";
  return words;
}

void add_claim(Page& page, const CompareResult& result, std::size_t row, const CompareWishes& wishes,
               const Terminal& terminal) {
  const ComparedClaim& claim = result.claims[row];
  const auto& verdicts = result.comparison->claims[row];
  const std::string wording =
      claim.worded_by ? fmt::format(" (as {} words it)", letter(*claim.worded_by)) : "";
  page.push_back({{"  " + claim.name, Style::strong}, {wording}});
  const Span a = answer_words(result, row, side_a);
  const Span b = answer_words(result, row, side_b);
  if (a.text == b.text) {
    add_paragraph(page, std::string(indent) + "A and B: ", a.text, terminal, a.style);
  } else {
    add_paragraph(page, std::string(indent) + "A: ", a.text, terminal, a.style);
    add_paragraph(page, std::string(indent) + "B: ", b.text, terminal, b.style);
  }
  // Where both answer alike, detent check shows the run of each.
  if (wishes.brief || !verdicts[side_a] || !verdicts[side_b] ||
      same_answer(*verdicts[side_a], *verdicts[side_b]))
    return;
  for (const std::size_t side : {side_a, side_b}) {
    if (verdicts[side]->run) add_claim_run(page, result, side, *verdicts[side], wishes, terminal);
  }
}

}  // namespace

Page compared_claims_page(const CompareResult& result, const CompareWishes& wishes,
                          const Terminal& terminal) {
  Page page;
  if (result.claims.empty()) return page;
  page.push_back({});
  page.push_back({{"Claims", Style::strong}, {", asked of both"}});
  for (std::size_t row = 0; row < result.claims.size(); ++row) add_claim(page, result, row, wishes, terminal);
  return page;
}

}  // namespace detent::cli
