// What a proof needs, by taking away (a deletion filter, as for minimal unsatisfiable subsets: Chinneck and
// Dravnieks, ORSA J. Computing 3(2), 1991): each signal in turn is cut loose from what makes it, and stays so
// if the same invariant still proves the same.
#include <z3++.h>

#include <algorithm>

#include "solver/event_search.hpp"
#include "solver/induction.hpp"
#include "solver/machine.hpp"
#include "solver/why.hpp"

namespace detent::solver {
namespace {

class Filter {
 public:
  Filter(const dsl::Model& model, const Proof& proof)
      : model_(model),
        proof_(proof),
        slice_(slice_for(model, proof.slice_of)),
        machine_(machine_of(slice_, model, proof.slice_of)) {
    machine_.cut.assign(slice_.circuit.nodes().size(), false);
  }

  ProofReasons filter() {
    ProofReasons reasons;
    for (std::size_t index = 0; index < model_.constraints.size(); ++index) {
      if (!drop_assumption(index)) {
        reasons.assumptions.push_back(index);
      }
    }
    // Outputs and late elements first: what is left is then near the hands.
    for (std::size_t index = model_.signals.size(); index-- > 0;) {
      (cut(index) ? reasons.not_needed : reasons.needed).push_back(static_cast<std::uint32_t>(index));
    }
    std::reverse(reasons.needed.begin(), reasons.needed.end());
    std::reverse(reasons.not_needed.begin(), reasons.not_needed.end());
    return reasons;
  }

 private:
  bool drop_assumption(std::size_t index) {
    const NodeId node = slice_.node_of[model_.constraints[index].node];
    const std::vector<NodeId> before = machine_.constraints;
    machine_.constraints.erase(std::remove(machine_.constraints.begin(), machine_.constraints.end(), node),
                               machine_.constraints.end());
    if (machine_.constraints.size() == before.size() || still_proved()) {
      return true;
    }
    machine_.constraints = before;
    return false;
  }

  bool cut(std::size_t signal) {
    const NodeId node = slice_.node_of[model_.signals[signal].node];
    if (node == dsl::no_node) {
      return true;  // the claim does not look at it
    }
    if (slice_.circuit.is_constant(node) || machine_.cut[node]) {
      return machine_.cut[node];
    }
    machine_.cut[node] = true;
    if (still_proved()) {
      return true;
    }
    machine_.cut[node] = false;
    return false;
  }

  bool still_proved() {
    Induction induction(context_, machine_);
    if (!induction.strengthen(proof_.invariant) || induction.invariant().size() != proof_.invariant.size()) {
      return false;
    }
    const NodeId watch = slice_.node_of[proof_.never];
    if (induction.prove(watch, proof_.k) != Induction::Answer::proved) {
      return false;
    }
    EventSearch search(context_, machine_, watch, 1'000'000'000);
    for (int step = 1; step < proof_.k; ++step) {
      if (search.deepen(0) != EventSearch::Answer::not_yet) {
        return false;
      }
    }
    return true;
  }

  const dsl::Model& model_;
  const Proof& proof_;
  Slice slice_;
  Machine machine_;
  z3::context context_;
};

}  // namespace

ProofReasons reasons_for(const dsl::Model& model, const Proof& proof) {
  return Filter(model, proof).filter();
}

}  // namespace detent::solver
