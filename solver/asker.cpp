// Each scope is a call to the engine of its own: a question about one design would be dearer in the company
// of what looks at both. Where neither design assumes what the other does not, what is a question about the
// same nodes in both is asked once.
#include "solver/asker.hpp"

#include <algorithm>
#include <utility>

#include "solver/forever.hpp"
#include "solver/interpreter.hpp"

namespace detent::solver {

using dsl::NodeKind;

Asker::Asker(const dsl::Model& a, const dsl::Model& b, const dsl::SideBySide& both,
             const CompareOptions& options)
    : designs_{&a, &b}, both_(both), options_(options) {
  models_[2] = both.model;
  for (const std::size_t side : {dsl::side_a, dsl::side_b}) {
    models_[side].constraints = both.constraints_of[side];
  }
}

Ticket Asker::ask(Scope scope, dsl::Claim claim) {
  if (scope == Scope::b && both_.same_assumptions) {
    const auto& known = models_[static_cast<std::size_t>(Scope::a)].claims;
    const auto same = std::find_if(known.begin(), known.end(), [&](const dsl::Claim& one) {
      return one.watch == claim.watch && one.premise == claim.premise && one.possible == claim.possible &&
             one.within == claim.within;
    });
    if (same != known.end()) return {Scope::a, static_cast<std::size_t>(same - known.begin())};
  }
  auto& claims = models_[static_cast<std::size_t>(scope)].claims;
  claims.push_back(std::move(claim));
  return {scope, claims.size() - 1};
}

// What both have to say comes first: it is what one compares for, and is known first where somebody stops it.
bool Asker::answer() {
  const bool fine = answer(Scope::both);
  // Where no run is left to the two together, perhaps none is left to one alone: that is better to know.
  return answer(Scope::a) && answer(Scope::b) && fine;
}

bool Asker::answer(Scope scope) {
  const auto index = static_cast<std::size_t>(scope);
  dsl::Model model = models_[2];
  model.claims = models_[index].claims;
  model.constraints = models_[index].constraints;
  std::vector<std::uint32_t> open;
  for (std::size_t claim = verdicts_[index].size(); claim < model.claims.size(); ++claim) {
    open.push_back(static_cast<std::uint32_t>(claim));
  }
  if (open.empty()) return true;
  Report report = check_forever(model, {.claims = std::move(open),
                                        .timeout = options_.timeout,
                                        .memory_mib = options_.memory_mib,
                                        .cancel = options_.cancel,
                                        .progress = options_.progress,
                                        .jobs = options_.jobs,
                                        .side_findings = false});
  statistics_.solver_calls += report.statistics.solver_calls;
  statistics_.replayed_runs += report.statistics.replayed_runs;
  if (report.no_run_of) {
    contradiction_ = {.side = {}, .ticks = *report.no_run_of};
    if (scope != Scope::both) contradiction_->side = index;
    for (const std::uint32_t one : report.contradicting)
      contradiction_->names.push_back(model.constraints[one].name);
    return false;
  }
  for (Verdict& verdict : report.verdicts) {
    if (verdict.run) confirm(*verdict.run);
    verdicts_[index].push_back(std::move(verdict));
  }
  return true;
}

const Verdict& Asker::verdict(const Ticket& ticket) const {
  return verdicts_[static_cast<std::size_t>(ticket.scope)][ticket.index];
}

Trace Asker::replayed(const Run& run) const {
  return replay(models_[2].circuit, run);
}

bool Asker::stopped() const {
  return options_.cancel.requested();
}

// A clock counts only as far as its own design looks, so clocks alone may differ.
void Asker::confirm(const Run& run) const {
  const Trace joined = replayed(run);
  for (const std::size_t side : {dsl::side_a, dsl::side_b}) {
    const dsl::Circuit& circuit = designs_[side]->circuit;
    const Run own = run_of_side(*designs_[side], both_, side, run);
    const Trace trace = replay(circuit, own);
    bool good = is_well_formed(circuit, own);
    // The two are perhaps not quiet at the same ticks; whatever changes in either does so at a moment of its
    // own.
    const auto alike_at = [&](const Trace::Moment& moment) {
      for (NodeId id = 0; id < circuit.nodes().size(); ++id) {
        const bool clock = circuit.node(id).kind == NodeKind::age;
        const NodeId twin = both_.node_of[side][id];
        if (!clock && trace.at(moment.tick, id) != joined.at(moment.tick, twin)) return false;
      }
      return true;
    };
    good = good && std::all_of(trace.moments().begin(), trace.moments().end(), alike_at) &&
           std::all_of(joined.moments().begin(), joined.moments().end(), alike_at);
    if (!good) throw InternalDisagreement{"two designs side by side do not do what each does alone"};
  }
}

Run run_of_side(const dsl::Model& design, const dsl::SideBySide& both, std::size_t side, const Run& run) {
  const Trace trace = replay(both.model.circuit, run);
  Run own;
  for (const Trace::Moment& moment : trace.moments()) {
    Rows::Row row;
    for (std::size_t input = 0; input < design.circuit.inputs().size(); ++input) {
      row.push_back(moment.values[both.inputs_of[side][input]]);
    }
    own.inputs.extend_to(moment.tick);
    own.inputs.push_back(row);
  }
  own.inputs.extend_to(trace.ticks());
  return own;
}

}  // namespace detent::solver
