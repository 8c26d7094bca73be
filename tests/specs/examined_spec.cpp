// The same steps as the program's own check, but the verdicts are compared and the runs replayed here.
#include "tests/specs/examined_spec.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <variant>

#include "cli/bound.hpp"
#include "solver/bounded.hpp"
#include "solver/interpreter.hpp"

namespace detent::test {
namespace {

bool holds_only_parts(const dsl::Tree& tree) {
  return !tree.declarations.empty() &&
         std::all_of(tree.declarations.begin(), tree.declarations.end(), [](const dsl::Declaration& one) {
           return std::holds_alternative<dsl::PartDeclaration>(one.body);
         });
}

/// Warnings of the text and of the report, by code, sorted.
std::vector<std::string> warnings_of(const dsl::Diagnostics& diagnostics, const solver::Report& report) {
  std::vector<std::string> codes;
  for (const dsl::Diagnostic& one : diagnostics) codes.emplace_back(dsl::code_name(one.code));
  for (const solver::OverlapFinding& one : report.overlaps) {
    if (one.run) codes.emplace_back(dsl::code_name(dsl::Code::overlapping_moves));
  }
  codes.insert(codes.end(), report.never_change.size(),
               std::string(dsl::code_name(dsl::Code::never_changes)));
  std::sort(codes.begin(), codes.end());
  return codes;
}

void compare_warnings(const dsl::Diagnostics& diagnostics, const solver::Report& report, ExaminedSpec& spec) {
  std::vector<std::string> expected = spec.expected.warnings;
  for (std::string& code : expected) std::replace(code.begin(), code.end(), '_', '-');
  std::vector<std::string> seen = warnings_of(diagnostics, report);
  for (std::string& code : seen) std::replace(code.begin(), code.end(), '_', '-');
  if (seen != expected) {
    spec.problems.push_back(fmt::format("warns of [{}], the file expects [{}]", fmt::join(seen, ", "),
                                        fmt::join(expected, ", ")));
  }
}

void replay_runs(const dsl::Model& model, const solver::Report& report, ExaminedSpec& spec) {
  for (const solver::Verdict& verdict : report.verdicts) {
    if (!verdict.run) continue;
    const dsl::Claim& claim = model.claims.at(verdict.claim);
    const std::string problem = run_problem(model, claim, *verdict.run);
    if (!problem.empty()) spec.problems.push_back(fmt::format("the run of '{}' {}", claim.name, problem));
  }
}

void check_model(const dsl::Compiled& compiled, ExaminedSpec& spec) {
  const dsl::Model& model = *compiled.model;
  const cli::Reading<cli::Bound> bound = cli::choose_bound(model, spec.expected.within);
  if (!bound.value) {
    spec.problems.push_back("'check within': " + bound.problem);
    return;
  }
  const solver::Report report = solver::check_bounded(model, {.within = bound.value->ticks});
  spec.seconds = report.statistics.seconds;
  if (report.no_run_of) {
    spec.problems.push_back(fmt::format("no run of {} ticks obeys the assumptions", *report.no_run_of));
  }
  compare_warnings(compiled.diagnostics, report, spec);
  replay_runs(model, report, spec);
  const std::vector<std::string> different = differences(model, report, spec.expected);
  spec.problems.insert(spec.problems.end(), different.begin(), different.end());
}

}  // namespace

std::string run_problem(const dsl::Model& model, const dsl::Claim& claim, const solver::Run& run) {
  if (run.ticks() == 0) return "has no ticks";
  if (!solver::is_well_formed(model.circuit, run)) return "has an input that its hand cannot give";
  const solver::Trace trace = solver::replay(model.circuit, run);
  for (std::size_t tick = 0; tick < run.ticks(); ++tick) {
    for (const dsl::Constraint& constraint : model.constraints) {
      if (trace.at(tick, constraint.node) == 0) {
        return fmt::format("breaks '{}' in tick {}", constraint.name, tick);
      }
    }
    const bool watched = trace.at(tick, claim.watch) != 0;
    if (watched != (tick + 1 == run.ticks())) {
      return fmt::format("has the claim {} in tick {} of {}", watched ? "settled" : "open", tick,
                         run.ticks());
    }
  }
  return "";
}

std::vector<std::string> differences(const dsl::Model& model, const solver::Report& report,
                                     const Expectations& expected) {
  std::vector<std::string> result = expected.problems;
  std::map<std::string, std::string> seen;
  for (const solver::Verdict& verdict : report.verdicts) {
    seen[model.claims.at(verdict.claim).name] = verdict_words(verdict);
  }
  std::map<std::string, std::string> wanted;
  for (const Expectation& one : expected.verdicts) {
    if (!wanted.emplace(one.claim, one.verdict).second) {
      result.push_back(fmt::format("line {}: a second expectation for '{}'", one.line, one.claim));
    }
    if (seen.count(one.claim) == 0) {
      result.push_back(fmt::format("line {}: there is no claim '{}'", one.line, one.claim));
    }
  }
  for (const dsl::Claim& claim : model.claims) {
    const std::string said = seen.count(claim.name) == 0 ? "no verdict" : seen[claim.name];
    const auto found = wanted.find(claim.name);
    if (found == wanted.end()) {
      result.push_back(fmt::format("'{}' has no expectation; it is: {}", claim.name, said));
    } else if (found->second != said) {
      result.push_back(fmt::format("'{}' is: {}; the file expects: {}", claim.name, said, found->second));
    }
  }
  return result;
}

ExaminedSpec examine(const std::string& path, const dsl::FileReader& read) {
  ExaminedSpec spec{.path = path};
  const dsl::Compiled compiled = dsl::compile(path, read);
  const std::string_view text = compiled.sources.size() == 0 ? "" : compiled.sources.text(0);
  spec.text = std::string(text);
  for (std::uint32_t file = 1; file < compiled.sources.size(); ++file) {
    spec.includes.push_back(compiled.sources.name(file));
  }
  if (holds_only_parts(compiled.tree)) {
    spec.only_parts = true;
    return spec;
  }
  if (!compiled.model) {
    for (const dsl::Diagnostic& one : compiled.diagnostics) {
      spec.problems.push_back(dsl::to_text(one, compiled.sources));
    }
    return spec;
  }
  for (const dsl::Claim& claim : compiled.model->claims) {
    spec.claims.push_back(claim.name + ": " + claim.doc + " " + claim.text);
    if (claim.doc.empty()) spec.problems.push_back("the claim '" + claim.name + "' has no sentence");
  }
  spec.expected = read_expectations(text);
  try {
    check_model(compiled, spec);
  } catch (const solver::InternalDisagreement& fault) {
    spec.problems.push_back(std::string("two readings of the circuit disagree: ") + fault.what());
  }
  return spec;
}

}  // namespace detent::test
