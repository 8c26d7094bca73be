#include "cli/export/solver_question.hpp"

#include <fmt/format.h>

#include <utility>

#include "cli/bound.hpp"
#include "cli/claim_choice.hpp"
#include "cli/cmd_check.hpp"
#include "cli/page.hpp"
#include "cli/verdict_text.hpp"
#include "cli/words.hpp"
#include "solver/smtlib.hpp"
#include "solver/smtlib_bounded.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Value;
using solver::Verdict;

using Answer = std::variant<SolverQuestion, CommandResult>;

/// A question of more lines than that would fill disks before any solver had read it.
constexpr Value most_lines = 5'000'000;

std::variant<std::uint32_t, CommandResult> one_claim(const CheckOptions& options, const Model& model) {
  if (model.claims.empty()) {
    return usage_error("this design has no claims, so there is nothing to ask a solver",
                       "write a claim into it, for example: claim safe: never live");
  }
  if (options.claims.size() == 1) return choose_claim("--claim", options.claims.front(), model);
  if (options.claims.empty() && model.claims.size() == 1) return 0U;
  return usage_error("smt2 takes one claim at a time",
                     fmt::format("name it, for example --claim {}", model.claims.front().name));
}

std::string title_of(const dsl::Compiled& design, std::uint32_t index) {
  const dsl::Claim& claim = design.model->claims[index];
  std::string title = printable(fmt::format("{}: {}", design.sources.name(0), claim.name), true);
  if (!claim.doc.empty()) title += "\n" + printable(claim.doc, true);
  return title + "\n" + printable(claim.text, true);
}

Answer bounded(const dsl::Compiled& design, std::uint32_t claim, Value ticks, const std::string& why,
               Status status) {
  const Model& model = *design.model;
  const Value lines = solver::bounded_question_lines(model, claim, ticks);
  if (lines > most_lines) {
    return usage_error(fmt::format("the question would be some {} million lines long", lines / 1'000'000),
                       "ask for fewer ticks (--within)");
  }
  return SolverQuestion{.text = solver::bounded_question(model, claim, ticks, title_of(design, claim)),
                        .told = why,
                        .status = status};
}

Answer ask_bounded(const CheckOptions& options, const dsl::Compiled& design, std::uint32_t claim) {
  const Model& model = *design.model;
  const Reading<Bound> bound = choose_bound(model, options.within);
  if (!bound.value) return bad_option("--within", bound);
  return bounded(design, claim, bound.value->ticks,
                 fmt::format("sat: a run of up to {} {}. unsat: none does.",
                             ticks_words(bound.value->ticks, model.tick_us),
                             model.claims[claim].possible ? "does what the claim says" : "breaks the claim"),
                 Status::all_hold);
}

/// The questions of a proof in one file.
std::string joined(const solver::ProofText& proof) {
  const std::string end = "(exit)\n";
  std::string text;
  for (const std::string& question : {proof.start, proof.step, proof.claim}) {
    if (!text.empty()) text += "(reset)\n";
    text += question;
    if (text.ends_with(end)) text.resize(text.size() - end.size());
  }
  return text + end;
}

Answer ask_evidence(const CheckResult& result) {
  const Model& model = *result.compiled.model;
  const Verdict& verdict = result.report->verdicts.front();
  const std::string words =
      fmt::format("{}: {}.", model.claims[verdict.claim].name, verdict_words(model, verdict).text);
  const Status status = status_of(result);
  if (verdict.proof) {
    const solver::ProofText proof =
        solver::proof_text(model, *verdict.proof, title_of(result.compiled, verdict.claim));
    return SolverQuestion{.text = joined(proof),
                          .told = words + " Three questions; unsat to each of them confirms it.",
                          .status = status};
  }
  if (verdict.run && verdict.run->ticks() > 0) {
    return bounded(result.compiled, verdict.claim, static_cast<Value>(verdict.run->ticks()),
                   words + " sat confirms it.", status);
  }
  CommandResult none = usage_error(
      fmt::format("there is no evidence to ask about. {} {}", words, remark_words(model, verdict)),
      "ask the bounded question with --within");
  none.status = status;
  return none;
}

}  // namespace

Answer question_of(const CheckOptions& options, dsl::Compiled design, const Settings& settings) {
  auto choice = one_claim(options, *design.model);
  if (auto* problem = std::get_if<CommandResult>(&choice)) return std::move(*problem);
  const std::uint32_t claim = std::get<std::uint32_t>(choice);
  if (options.within) return ask_bounded(options, design, claim);
  CheckOptions wanted = options;
  wanted.small_proofs = true;
  wanted.claims = {design.model->claims[claim].name};
  auto done = checked(wanted, std::move(design), settings);
  if (auto* problem = std::get_if<CommandResult>(&done)) return std::move(*problem);
  const CheckResult& result = std::get<CheckResult>(done);
  if (auto nothing = nothing_to_report(result, settings)) return std::move(*nothing);
  return ask_evidence(result);
}

}  // namespace detent::cli
