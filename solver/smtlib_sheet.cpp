#include "solver/smtlib_sheet.hpp"

#include <fmt/format.h>

#include <utility>

namespace detent::solver {

using dsl::no_node;
using dsl::Node;

namespace {

std::string quote(const std::string& name) {
  return "|" + name + "|";
}

}  // namespace

std::string smt_number(Value value) {
  return value < 0 ? fmt::format("(- {})", -value) : fmt::format("{}", value);
}

std::string smt_literal(bool condition, Value value) {
  return condition ? (value != 0 ? "true" : "false") : smt_number(value);
}

const char* smt_sort(bool condition) {
  return condition ? "Bool" : "Int";
}

std::string smt_at(int step) {
  return fmt::format("@{}", step);
}

SmtNames::SmtNames(const dsl::Model& model, const Slice& slice, const Machine& machine)
    : names_(slice.circuit.nodes().size()) {
  for (const dsl::Signal& signal : model.signals) {
    give(slice.node_of[signal.node], signal.name);
  }
  for (const dsl::Claim& claim : model.claims) {
    give(slice.node_of[claim.watch], "broken: " + claim.name);
  }
  for (NodeId id = 0; id < names_.size(); ++id) {
    if (names_[id].empty()) {
      names_[id] = fmt::format("node {}", id);
    }
  }
  for (std::size_t index = 0; index < machine.memories.size(); ++index) {
    const Node& node = slice.circuit.node(machine.memories[index].node);
    memories_.push_back(fmt::format(
        "{} {} ({})", machine.memories[index].clock ? "ticks since" : "before:", names_[node.a], index));
  }
}

std::string SmtNames::node(NodeId id, const std::string& suffix) const {
  return quote(names_[id] + suffix);
}

std::string SmtNames::memory(std::size_t index, const std::string& suffix) const {
  return quote(memories_[index] + suffix);
}

void SmtNames::give(NodeId id, const std::string& name) {
  if (id != no_node && names_[id].empty() && used_.insert(name).second) {
    names_[id] = name;
  }
}

void SmtSheet::comment(const std::string& text) {
  is_about(ProofLine::Part::frame);
  line(text);
}

void SmtSheet::is_about(ProofLine::Part part, NodeId node) {
  part_ = part;
  node_ = node == no_node ? no_node : slice_->whole_of[node];
}

void SmtSheet::declare(const std::string& name, bool condition) {
  line(fmt::format("(declare-fun {} () {})", name, smt_sort(condition)));
}

void SmtSheet::assert_range(const std::string& name, const dsl::Range& range) {
  line(fmt::format("(assert (<= {} {} {}))", smt_number(range.low), name, smt_number(range.high)));
}

std::vector<ProofLine> SmtSheet::take() {
  step_ = 0;
  return std::exchange(lines_, {});
}

}  // namespace detent::solver
