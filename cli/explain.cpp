#include "cli/explain.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/element_words.hpp"
#include "cli/invariant_words.hpp"
#include "cli/node_owners.hpp"
#include "cli/words.hpp"
#include "dsl/text.hpp"
#include "solver/machine.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::NodeId;
using solver::ProofLine;
using Part = ProofLine::Part;
using Kind = NodeOwner::Kind;

/// Where there is no proof: the step alone, with nothing known of what is remembered but its range.
solver::Proof step_alone(const dsl::Claim& claim) {
  return {.never = claim.watch, .slice_of = {claim.watch}, .invariant = {}, .k = 1};
}

/// A proof may have been made for several claims at once; then the others' nodes are part of its questions.
std::vector<NodeId> asked_about(const solver::Proof& proof) {
  std::vector<NodeId> nodes{proof.never};
  nodes.insert(nodes.end(), proof.slice_of.begin(), proof.slice_of.end());
  return nodes;
}

class Explainer {
 public:
  Explainer(const dsl::Compiled& compiled, const solver::Verdict& verdict)
      : compiled_(compiled),
        model_(*compiled.model),
        claim_(model_.claims[verdict.claim]),
        claim_index_(verdict.claim),
        proof_(verdict.proof ? *verdict.proof : step_alone(claim_)),
        lines_(solver::proof_lines(model_, proof_, claim_.name)),
        slice_(solver::slice_for(model_, proof_.slice_of)),
        owners_(node_owners(model_, verdict.claim, asked_about(proof_), slice_)) {
    result_.proof = verdict.proof.has_value();
    result_.k = proof_.k;
  }

  Explanation explain() {
    explain_memory();
    explain_tick();
    explain_assumptions();
    explain_claim();
    explain_afterwards();
    explain_invariant();
    explain_questions();
    return std::move(result_);
  }

 private:
  // ---- picking lines ----
  template <class Wanted>
  std::vector<std::string> pick(const std::vector<ProofLine>& lines, Wanted wanted) const {
    std::vector<std::string> texts;
    for (const ProofLine& line : lines) {
      if (line.part != Part::frame && wanted(line)) texts.push_back(line.text);
    }
    return texts;
  }
  /// Of the first step in the question about the claim, which has all parts.
  std::vector<std::string> gates_of(const NodeOwner& owner) const {
    return pick(lines_.claim, [&](const ProofLine& line) {
      const bool gate = line.part == Part::hand || line.part == Part::gate;
      return gate && line.step == 0 && owners_[line.node] == owner;
    });
  }

  ExplainedPiece piece_at(const dsl::Place& place, std::string words, std::vector<std::string> smt) const {
    return {line_words(compiled_.sources, place), dsl::one_line(compiled_.sources.line_text(place)),
            std::move(words), std::move(smt)};
  }

  // ---- what is remembered ----
  void explain_memory() {
    const MemoryWords words(model_, proof_);
    for (const ProofLine& line : lines_.claim) {
      if (line.part == Part::remembered)
        result_.remembered.push_back({owner_line(line.node), "", words.meaning(line.node), {line.text}});
    }
    for (const ProofLine& line : lines_.start) {
      if (line.part == Part::start)
        result_.before.push_back({"", "", words.before_start(line.node), {line.text}});
    }
  }

  std::string owner_line(NodeId node) const {
    const NodeOwner& owner = owners_[node];
    switch (owner.kind) {
      case Kind::signal:
        return line_words(compiled_.sources, model_.signals[owner.index].place);
      case Kind::constraint:
        return line_words(compiled_.sources, model_.constraints[owner.index].place);
      case Kind::claim:
        return line_words(compiled_.sources, model_.claims[owner.index].place);
      case Kind::none:
        break;
    }
    return "";
  }

  // ---- the tick ----
  void explain_tick() {
    for (const std::uint32_t index : by_evaluation(model_, slice_)) {
      const dsl::Signal& signal = model_.signals[index];
      std::vector<std::string> smt = gates_of({Kind::signal, index});
      if (model_.power_up_choice == index) {
        result_.tick.push_back({"", "power_up edges either",
                                "Whether what is already true at power-up counts as an edge may be either.",
                                std::move(smt)});
        continue;
      }
      result_.tick.push_back(piece_at(signal.place, signal_words(index), std::move(smt)));
    }
  }

  std::string signal_words(std::uint32_t index) const {
    const dsl::Signal& signal = model_.signals[index];
    const NodeOwner& owner = owners_[signal.node];
    constexpr std::string_view received = " received";
    std::string words =
        signal.name.ends_with(received)
            ? received_words(compiled_, signal.name.substr(0, signal.name.size() - received.size()))
            : element_words(compiled_, signal.name);
    const bool shared = owner != NodeOwner{Kind::signal, index};
    if (shared && owner.kind == Kind::signal)
      words +=
          fmt::format(" (That is the same as {}, and is given only once.)", model_.signals[owner.index].name);
    return words;
  }

  // ---- assumptions and claim ----
  void explain_assumptions() {
    for (std::uint32_t index = 0; index < model_.constraints.size(); ++index) {
      const dsl::Constraint& one = model_.constraints[index];
      const NodeId node = slice_.node_of[one.node];
      if (node == dsl::no_node) continue;
      std::vector<std::string> smt = gates_of({Kind::constraint, index});
      const std::vector<std::string> asserted = pick(lines_.claim, [&](const ProofLine& line) {
        return line.part == Part::constraint && line.step == 0 && slice_.node_of[line.node] == node;
      });
      const bool earlier =
          std::any_of(model_.constraints.begin(), model_.constraints.begin() + index,
                      [&](const dsl::Constraint& other) { return slice_.node_of[other.node] == node; });
      if ((asserted.empty() && smt.empty()) || earlier) continue;
      smt.insert(smt.end(), asserted.begin(), asserted.end());
      result_.assumptions.push_back(piece_at(
          one.place, fmt::format("Only runs are looked at in which this holds in every tick: {}.", one.name),
          std::move(smt)));
    }
  }

  void explain_claim() {
    const std::string words =
        claim_.possible
            ? fmt::format("What is looked for is a tick in which this is true: {}", claim_.first.text)
            : fmt::format("What is watched is true in a tick in which this is broken: {}", claim_.text);
    result_.claim = piece_at(claim_.place, words, gates_of({Kind::claim, claim_index_}));
  }

  // ---- after the tick ----
  void explain_afterwards() {
    std::vector<std::string> later = pick(lines_.claim, [&](const ProofLine& line) {
      return line.part == Part::gate && line.step == 0 && owners_[line.node].for_next_tick;
    });
    if (!later.empty())
      result_.afterwards.push_back(
          {"", "", "What has to be worked out only because it is remembered.", std::move(later)});
    result_.afterwards.push_back({"", "",
                                  "A step is this tick and any number of quiet ticks after it, in which "
                                  "nothing changes but timers that "
                                  "count on. So nobody has to wait tick by tick.",
                                  pick(lines_.claim, [](const ProofLine& line) {
                                    return line.part == Part::quiet && line.step == 0;
                                  })});
    const MemoryWords words(model_, proof_);
    for (std::size_t index = 0; index < lines_.claim.size(); ++index) {
      const NodeId node = lines_.claim[index].node;
      const auto is_this = [&](const ProofLine& line) {
        return line.part == Part::next && line.step == 0 && line.node == node;
      };
      if (!is_this(lines_.claim[index]) || (index > 0 && is_this(lines_.claim[index - 1]))) continue;
      result_.afterwards.push_back(
          {owner_line(node), "", words.afterwards(node), pick(lines_.claim, is_this)});
    }
    result_.later_steps = pick(
        lines_.claim, [](const ProofLine& line) { return line.step > 0 && line.part != Part::question; });
  }

  // ---- for all time ----
  void explain_invariant() {
    result_.invariant.push_back(
        {"", "",
         result_.proof ? "What the machine found to be true between any two steps, in one formula:"
                       : "Nothing is known of what is remembered but the range that it has:",
         pick(lines_.claim, [](const ProofLine& line) { return line.part == Part::invariant; })});
    const MemoryWords words(model_, proof_);
    for (const solver::Clause& clause : proof_.invariant)
      result_.invariant.push_back({"", "", words.fact(clause), {}});
  }

  void explain_questions() {
    const auto asked = [](const ProofLine& line) { return line.part == Part::question; };
    result_.start = {"", "", "", pick(lines_.start, asked)};
    result_.step = {"", "", "", pick(lines_.step, asked)};
    result_.broken = {"", "", "", pick(lines_.claim, asked)};
  }

  const dsl::Compiled& compiled_;
  const Model& model_;
  const dsl::Claim& claim_;
  std::uint32_t claim_index_;
  solver::Proof proof_;
  solver::ProofLines lines_;
  solver::Slice slice_;
  std::vector<NodeOwner> owners_;
  Explanation result_;
};

}  // namespace

Explanation explain(const dsl::Compiled& compiled, const solver::Verdict& verdict) {
  return Explainer(compiled, verdict).explain();
}

}  // namespace detent::cli
