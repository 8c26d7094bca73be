// Both are questions like those of the claims. A signal never changes if no run ever gives it another value
// than one that it was seen to have; most are seen to change in the look round, and need no question.
#include "solver/side_findings.hpp"

#include "solver/tidy.hpp"

namespace detent::solver {
namespace {

void find_overlaps(const dsl::Model& model, const Setting& setting, Value ticks, const Limits& limits,
                   Report& report) {
  std::vector<Question> questions;
  for (const dsl::Overlap& overlap : model.overlaps) questions.push_back({overlap.both, ticks});
  search(setting, questions, limits, report.statistics);
  for (std::uint32_t index = 0; index < questions.size(); ++index) {
    const Question& question = questions[index];
    if (!question.run && !question.is_settled()) continue;
    OverlapFinding finding{index, {}};
    if (question.run) finding.run = tidied(setting, question.node, *question.run);
    report.overlaps.push_back(std::move(finding));
  }
}

void find_unchanging(const dsl::Model& model, const Setting& setting, Value ticks, const Sights& sights,
                     const Limits& limits, Report& report) {
  if (sights.first_values.empty()) return;
  dsl::Circuit circuit = *setting.circuit;
  std::vector<std::uint32_t> signals;
  std::vector<Question> questions;
  for (std::uint32_t index = 0; index < model.signals.size(); ++index) {
    const dsl::Signal& signal = model.signals[index];
    if (signal.role == dsl::SignalRole::hand || sights.changed[signal.node] ||
        circuit.is_constant(signal.node))
      continue;
    const Value value = sights.first_values[signal.node];
    const NodeId same =
        circuit.node(signal.node).condition ? circuit.truth(value != 0) : circuit.constant(value);
    signals.push_back(index);
    questions.push_back({circuit.not_(circuit.equal(signal.node, same)), ticks});
  }
  if (!circuit.finish().empty()) return;
  search({&circuit, setting.constraints}, questions, limits, report.statistics);
  for (std::size_t index = 0; index < questions.size(); ++index) {
    if (questions[index].is_settled() && !questions[index].run) report.never_change.push_back(signals[index]);
  }
}

}  // namespace

void find_aside(const dsl::Model& model, const Setting& setting, Value ticks, const Sights& sights,
                const Limits& limits, Report& report) {
  find_overlaps(model, setting, ticks, limits, report);
  find_unchanging(model, setting, ticks, sights, limits, report);
}

}  // namespace detent::solver
