// Questions about the same clocks and latches share guesses, sieve and proofs; but each clock that a question
// does not need makes its answer dearer. So a question joins the group to which it adds the fewest memories,
// if those are few, and else opens a group of its own. Small designs become two groups:
// what is hoped for wants runs, and what is feared wants proofs, so the two have little to share and are
// better looked for side by side (the flagship takes 2.7 instead of 3.1 times as long as one check on two
// cores, with a fifth more processor time).
#include "solver/grouping.hpp"

#include <algorithm>
#include <numeric>

#include "solver/machine.hpp"

namespace detent::solver {
namespace {

constexpr std::size_t small_group = 24;  // memories that any group may hold
constexpr std::size_t few_more = 3;      // memories of a larger group that a question may not need

using Nodes = std::vector<NodeId>;  // ascending

Nodes memories_of(const dsl::Model& model, NodeId condition) {
  std::vector<NodeId> roots{condition};
  for (const dsl::Constraint& constraint : model.constraints) {
    if (!constraint.rate) {
      roots.push_back(constraint.node);
    }
  }
  const std::vector<bool> marks = influence(model.circuit, roots);
  Nodes memories;
  for (NodeId id = 0; id < marks.size(); ++id) {
    const dsl::NodeKind kind = model.circuit.node(id).kind;
    if (marks[id] && (kind == dsl::NodeKind::previous || kind == dsl::NodeKind::age)) {
      memories.push_back(id);
    }
  }
  return memories;
}

Nodes united(const Nodes& one, const Nodes& other) {
  Nodes both;
  std::set_union(one.begin(), one.end(), other.begin(), other.end(), std::back_inserter(both));
  return both;
}

struct Group {
  bool hopeful = false;
  Nodes memories;
  std::vector<std::size_t> questions;
};

}  // namespace

std::vector<std::vector<std::size_t>> group_questions(const dsl::Model& model,
                                                      const std::vector<ReachQuestion>& questions,
                                                      const Limits& limits) {
  std::vector<Nodes> memories;
  for (const ReachQuestion& question : questions) {
    if (limits.reached() != Limit::none) {
      break;
    }
    memories.push_back(memories_of(model, question.condition));
  }
  std::vector<std::size_t> order(memories.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t one, std::size_t other) {
    return memories[one].size() > memories[other].size();
  });
  std::vector<Group> groups;
  for (const std::size_t question : order) {
    if (limits.reached() != Limit::none) {
      break;
    }
    Group* best = nullptr;
    std::size_t least = 0;
    for (Group& group : groups) {
      const std::size_t size = united(group.memories, memories[question]).size();
      const std::size_t more = size - group.memories.size();
      const bool fits = size <= std::max(small_group, memories[question].size() + few_more);
      const bool alike = group.hopeful == questions[question].hopeful;
      if (alike && fits && (best == nullptr || more < least)) {
        best = &group;
        least = more;
      }
    }
    if (best == nullptr) {
      best = &groups.emplace_back();
      best->hopeful = questions[question].hopeful;
    }
    best->memories = united(best->memories, memories[question]);
    best->questions.push_back(question);
  }
  std::vector<std::vector<std::size_t>> result;
  for (Group& group : groups) {
    std::sort(group.questions.begin(), group.questions.end());
    result.push_back(std::move(group.questions));
  }
  return result;
}

}  // namespace detent::solver
