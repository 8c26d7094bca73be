#include "cli/cmd_why.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "cli/claim_choice.hpp"
#include "cli/errors_text.hpp"
#include "cli/interrupt.hpp"
#include "cli/page.hpp"
#include "cli/quantities.hpp"
#include "cli/reader.hpp"
#include "cli/settings.hpp"
#include "cli/study_page.hpp"
#include "cli/terminal.hpp"
#include "cli/verdict_text.hpp"
#include "cli/why_json.hpp"
#include "cli/why_text.hpp"
#include "cli/words.hpp"
#include "dsl/front.hpp"
#include "solver/forever.hpp"
#include "solver/why.hpp"

namespace detent::cli {
namespace {

using dsl::Model;

void add_proof(Page& page, const Model& model, const solver::Proof& proof, const Terminal& terminal) {
  page.push_back({});
  for (const auto& [what, words] : proof_reasons(model, proof)) {
    add_paragraph(page, what + ": ", words, terminal);
  }
}

Page why_page(const dsl::Compiled& compiled, const solver::Verdict& verdict, const Terminal& terminal) {
  const Model& model = *compiled.model;
  const dsl::Claim& claim = model.claims[verdict.claim];
  Page page;
  page.push_back({verdict_words(model, verdict), {"  "}, {claim.name, Style::strong}});
  if (!claim.doc.empty()) add_paragraph(page, "    ", fmt::format("\"{}\"", claim.doc), terminal);
  add_paragraph(page, "    ", claim.text, terminal);
  if (verdict.run) {
    page.push_back({});
    add_page(page, run_causes_page(model, claim, *verdict.run, terminal));
  } else if (verdict.proof) {
    add_proof(page, model, *verdict.proof, terminal);
  }
  page.push_back({});
  add_paragraph(page, "", "This is about the model, not the wiring: blade or propeller off on the bench.",
                terminal);
  return page;
}

}  // namespace

CommandResult why(const WhyOptions& options) {
  if (options.format != "text" && options.format != "json")
    return bad_word("--format", options.format, {"text", "json"});
  const bool json = options.format == "json";
  Reading<std::chrono::milliseconds> timeout{.value = std::chrono::minutes(1)};
  if (options.timeout) timeout = read_time(*options.timeout);
  if (!timeout.value) return usage_error("--timeout: " + timeout.problem, timeout.mend);
  const dsl::Compiled compiled = dsl::compile(source_name(options.file), file_reader(options.file));
  const Terminal errors = choose_terminal({}, look_around(2));
  if (!compiled.model) {
    if (json) return {.output = why_json(options.file, compiled, {}), .status = Status::input_wrong};
    return {.errors = render(errors_page(compiled, errors), errors), .status = Status::input_wrong};
  }
  auto choice = choose_claim("--claim", options.claim, *compiled.model);
  if (auto* problem = std::get_if<CommandResult>(&choice)) return std::move(*problem);
  const Interrupt interrupt;
  const solver::Report report =
      solver::check_forever(*compiled.model, {.claims = {std::get<std::uint32_t>(choice)},
                                              .timeout = timeout.value,
                                              .cancel = interrupt.flag(),
                                              .side_findings = false,
                                              .small_proofs = true});
  if (json) {
    return {.output = why_json(options.file, compiled, report),
            .status = report.no_run_of ? Status::input_wrong : status_of_verdict(report.verdicts.front())};
  }
  if (report.no_run_of) return contradiction(compiled, report, {});
  const Terminal terminal = choose_terminal({}, look_around(1));
  const solver::Verdict& verdict = report.verdicts.front();
  return {.output = render(why_page(compiled, verdict, terminal), terminal),
          .status = status_of_verdict(verdict)};
}

}  // namespace detent::cli
