// Each claim form as one condition that is true in the tick in which the claim is broken.
//
// All forms but `possible` are safety properties with a bounded horizon, so a finite run can break them and a
// monitor of past ticks can tell when it does (Havelund and Rosu, "Synthesizing monitors for safety
// properties", TACAS 2002). The two that look forward are turned round:
//   whenever P: Q within T   a request is open since a P with no Q; it is broken when it has been open for T
//   whenever P: Q for T      broken when P was at most T-1 ticks ago and Q is false now
#include "dsl/lower_claims.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "dsl/limits.hpp"
#include "dsl/text.hpp"

namespace detent::dsl {
namespace {

struct Watched {
  NodeId watch = no_node;
  NodeId premise = no_node;  ///< no_node: the claim has none
};

/// Builds the monitor of one claim.
class Monitor {
 public:
  Monitor(TermBuilder& terms, Circuit& circuit, const CheckedClaim& claim)
      : terms_(terms),
        circuit_(circuit),
        form_(claim.form),
        ticks_(claim.ticks.value_or(0)),
        first_(terms.build(claim.first)),
        second_(claim.second ? terms.build(*claim.second) : no_node) {}

  [[nodiscard]] NodeId first() const { return first_; }
  [[nodiscard]] NodeId second() const { return second_; }

  Watched build() {
    switch (form_) {
      case ClaimForm::always:
        return {circuit_.not_(first_)};
      case ClaimForm::never:
        return {first_};
      case ClaimForm::never_while:
        return {circuit_.and_(first_, second_), second_};
      case ClaimForm::whenever:
      case ClaimForm::only_while:
        return {without(second_), first_};
      case ClaimForm::whenever_within:
        return {terms_.held(open_request(), ticks_), first_};
      case ClaimForm::whenever_for:
        return {circuit_.and_(terms_.recently(first_, ticks_ - 1), circuit_.not_(second_)), first_};
      case ClaimForm::only_within:
        return {without(terms_.recently(second_, ticks_)), first_};
      case ClaimForm::only_after:
        return {without(terms_.since(circuit_.truth(true), second_, false)), first_};
      case ClaimForm::lasts_at_least:
        return {ended_early(), first_};
      case ClaimForm::lasts_at_most:
        return {terms_.held(first_, ticks_), first_};
      case ClaimForm::possible:
      case ClaimForm::possible_within:
        return {first_};
    }
    return {};
  }

 private:
  NodeId without(NodeId needed) { return circuit_.and_(first_, circuit_.not_(needed)); }

  NodeId open_request() {
    const NodeId unanswered = circuit_.not_(second_);
    return terms_.since(unanswered, circuit_.and_(first_, unanswered), false);
  }

  NodeId ended_early() {
    const NodeId off = circuit_.age(circuit_.not_(first_), true);
    const NodeId was_short = circuit_.and_(first_, circuit_.age_at_most(off, ticks_ - 1));
    return circuit_.and_(circuit_.not_(first_), circuit_.previous(was_short, 0));
  }

  TermBuilder& terms_;
  Circuit& circuit_;
  ClaimForm form_;
  Value ticks_;
  NodeId first_;
  NodeId second_;
};

/// The signals of a model, and for each element the one that the design sees.
struct NamedSignals {
  const std::vector<Signal>& all;
  const std::vector<std::uint32_t>& of_element;
};

/// What the hand does stands right before what is received of it.
std::uint32_t signal_meant(const Term& term, const NamedSignals& signals) {
  const std::uint32_t seen = signals.of_element[term.element];
  const bool is_hand = seen == no_signal || signals.all[seen].role == SignalRole::hand;
  return term.op == TermOp::hand && !is_hand ? seen - 1 : seen;
}

void collect_mentions(const Term& term, const NamedSignals& signals, std::vector<std::uint32_t>& mentions) {
  const bool names_one = term.op == TermOp::reference || term.op == TermOp::lost || term.op == TermOp::hand;
  const std::uint32_t signal = names_one ? signal_meant(term, signals) : no_signal;
  if (signal != no_signal) {
    mentions.push_back(signal);
  }
  for (const Term& operand : term.operands) {
    collect_mentions(operand, signals, mentions);
  }
}

Piece piece_of(const Term& term, NodeId node, const Sources& sources, const NamedSignals& signals) {
  Piece piece{.text = one_line(sources.text(term.place)), .place = term.place, .node = node};
  collect_mentions(term, signals, piece.mentions);
  std::sort(piece.mentions.begin(), piece.mentions.end());
  piece.mentions.erase(std::unique(piece.mentions.begin(), piece.mentions.end()), piece.mentions.end());
  return piece;
}

bool is_possible(ClaimForm form) {
  return form == ClaimForm::possible || form == ClaimForm::possible_within;
}

/// An input for every element that the term names: what the claim says where the design may do anything.
void free_elements(const Term& term, const Design& design, Circuit& circuit, TermBuilder& terms) {
  const bool names_one = term.op == TermOp::reference || term.op == TermOp::lost || term.op == TermOp::hand;
  auto& meaning = terms.meanings[term.element];
  if (names_one && meaning.node == no_node) {
    const bool condition = term.type.kind == SortKind::condition;
    const auto any = condition ? Range{0, 1} : Range{-largest_level, largest_level};
    const auto free = [&] {
      return circuit.input(
          {.name = design.elements[term.element].name, .condition = condition, .range = any});
    };
    meaning.node = free();
    meaning.hand = free();
  }
  for (const Term& operand : term.operands) {
    free_elements(operand, design, circuit, terms);
  }
}

// A claim that holds because of how the design is wired may be settled as well; only one that no wiring could
// change is a slip of the pen.
bool is_settled_by_its_wording(const CheckedClaim& claim, const Design& design) {
  Circuit circuit;
  TermBuilder terms(design, circuit);
  terms.edge_choice = circuit.input({.name = "edges at power-up", .condition = true});
  free_elements(claim.first, design, circuit, terms);
  if (claim.second) {
    free_elements(*claim.second, design, circuit, terms);
  }
  return circuit.is_constant(Monitor(terms, circuit, claim).build().watch);
}

void warn_if_settled(const Claim& claim, const CheckedClaim& checked, const Design& design,
                     const Circuit& circuit, Diagnostics& diagnostics) {
  const bool mentions_something =
      !claim.first.mentions.empty() || (claim.second && !claim.second->mentions.empty());
  if (!mentions_something) {
    diagnostics.push_back(
        {.code = Code::claim_on_nothing,
         .place = claim.place,
         .message = fmt::format("the claim '{}' speaks of no input and no element", claim.name),
         .mend = "name what it is about"});
  } else if (circuit.is_constant(claim.watch) && is_settled_by_its_wording(checked, design)) {
    diagnostics.push_back(
        {.code = Code::never_changes,
         .place = claim.place,
         .message = fmt::format("the claim '{}' is settled by its wording alone, whatever the design does",
                                claim.name),
         .mend = "check that it says what you mean"});
  }
}

}  // namespace

void lower_claims(const Design& design, const Sources& sources, const std::vector<std::uint32_t>& signals,
                  TermBuilder& terms, Model& model, Diagnostics& diagnostics) {
  Circuit& circuit = model.circuit;
  const NamedSignals named{model.signals, signals};
  for (const PowerUpCondition& condition : design.at_power_up) {
    model.constraints.push_back(
        {.name = "at power_up",
         .doc = one_line(sources.text(condition.condition.place)),
         .place = condition.place,
         .node = circuit.implies(circuit.first_tick(), terms.build(condition.condition))});
  }
  for (const CheckedClaim& assumption : design.assumptions) {
    const NodeId broken = Monitor(terms, circuit, assumption).build().watch;
    model.constraints.push_back({.name = assumption.name,
                                 .doc = assumption.doc,
                                 .place = assumption.place,
                                 .node = circuit.not_(broken)});
  }
  for (const CheckedClaim& checked : design.claims) {
    Monitor monitor(terms, circuit, checked);
    const Watched watched = monitor.build();
    Claim claim{.name = checked.name,
                .doc = checked.doc,
                .text = one_line(sources.text(checked.body)),
                .place = checked.place,
                .form = checked.form,
                .possible = is_possible(checked.form),
                .watch = watched.watch,
                .premise = watched.premise,
                .first = piece_of(checked.first, monitor.first(), sources, named)};
    (claim.possible ? claim.within : claim.duration) = checked.ticks;
    if (checked.second) {
      claim.second = piece_of(*checked.second, monitor.second(), sources, named);
    }
    warn_if_settled(claim, checked, design, circuit, diagnostics);
    model.claims.push_back(std::move(claim));
  }
}

}  // namespace detent::dsl
