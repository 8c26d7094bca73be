#include "tests/support/tuned.hpp"

#include <algorithm>
#include <chrono>
#include <stdexcept>

#include "solver/forever.hpp"

namespace detent::test {
namespace {

using solver::Outcome;
using solver::Standing;

constexpr std::chrono::minutes patience{5};

cli::TuneAxis axis_named(const std::vector<dsl::Tunable>& all, const std::string& name) {
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const dsl::Tunable& one) { return one.name == name; });
  if (found == all.end()) throw std::runtime_error("there is no tunable " + name);
  return cli::axis_of(*found, 1);
}

}  // namespace

Tuned tuned(const std::string& text, const std::vector<std::string>& names, unsigned jobs) {
  Tuned result{.compiled = dsl::compile_text("test.detent", text), .study = {}};
  if (!result.compiled.model) {
    throw std::runtime_error(dsl::to_text(result.compiled.diagnostics.front(), result.compiled.sources));
  }
  const auto all = dsl::tunables(result.compiled.tree, result.compiled.model->tick_us);
  std::vector<cli::TuneAxis> axes;
  for (const std::string& name : names) axes.push_back(axis_named(all, name));
  result.study = cli::study(result.compiled, std::move(axes), {.timeout = patience, .jobs = jobs});
  return result;
}

Standing standing_of_text(const std::string& text) {
  const dsl::Compiled compiled = dsl::compile_text("test.detent", text);
  if (!compiled.model) return Standing::no_design;
  const solver::Report report =
      solver::check_forever(*compiled.model, {.timeout = patience, .side_findings = false});
  if (report.no_run_of) return Standing::no_run;
  const auto any = [&](Outcome outcome) {
    return std::any_of(report.verdicts.begin(), report.verdicts.end(),
                       [&](const solver::Verdict& one) { return one.outcome == outcome; });
  };
  if (any(Outcome::refuted)) return Standing::fails;
  return any(Outcome::undecided) ? Standing::undecided : Standing::holds;
}

std::string replaced(std::string text, const std::string& old, const std::string& with) {
  std::size_t at = text.find(old);
  if (at == std::string::npos) throw std::runtime_error("there is no '" + old + "' to replace");
  for (; at != std::string::npos; at = text.find(old, at + with.size())) text.replace(at, old.size(), with);
  return text;
}

char letter_of(Standing standing) {
  switch (standing) {
    case Standing::holds:
      return '+';
    case Standing::fails:
      return '-';
    case Standing::no_design:
      return 'd';
    case Standing::no_run:
      return 'n';
    default:
      return '?';
  }
}

std::string letters_of(const cli::TuneStudy& study) {
  std::string letters;
  for (const solver::PointFinding& one : study.report.points) letters += letter_of(one.standing);
  return letters;
}

}  // namespace detent::test
