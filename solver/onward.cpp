#include "solver/onward.hpp"

#include <z3++.h>

#include <algorithm>
#include <new>
#include <numeric>
#include <string>
#include <utility>

#include "solver/confirm.hpp"
#include "solver/event_search.hpp"
#include "solver/rest.hpp"

namespace detent::solver {
namespace {

constexpr unsigned shrink_ms = 1500;

/// Some input that differs between two rows.
std::optional<std::size_t> moved_between(const Rows::Row& before, const Rows::Row& now) {
  for (std::size_t input = now.size(); input-- > 0;) {
    if (before[input] != now[input]) return input;
  }
  return {};
}

/// The two inputs that an assumption ties together.
std::optional<std::pair<std::size_t, std::size_t>> tied_by(const dsl::Circuit& circuit, NodeId constraint) {
  const dsl::Node& outer = circuit.node(constraint);
  const dsl::Node& node = outer.kind == dsl::NodeKind::not_ ? circuit.node(outer.a) : outer;
  if (node.kind != dsl::NodeKind::equal) return {};
  const dsl::Node& a = circuit.node(node.a);
  const dsl::Node& b = circuit.node(node.b);
  const bool two_ways = a.condition || node.kind == outer.kind;  // levels that differ may still move alone
  if (a.kind != dsl::NodeKind::input || b.kind != dsl::NodeKind::input || !two_ways) return {};
  return std::pair(static_cast<std::size_t>(a.number), static_cast<std::size_t>(b.number));
}

Rows::Row row_of(const Slice& slice, const Rows::Row& whole) {
  Rows::Row row;
  for (const std::size_t input : slice.inputs) row.push_back(whole[input]);
  return row;
}

/// The slice's machine, played to the end of the run.
OnTheWay at_end_of(const Run& run, const Slice& slice, const Quiet& quiet, const Operator& by) {
  OnTheWay place{Interpreter(slice.circuit), {}, 0, run.inputs.front().size()};
  std::size_t begin = 0, moved_at = 0;
  Rows::Row before = run.inputs.front();
  for (const Rows::Stretch& stretch : run.inputs.stretches()) {
    if (const std::optional<std::size_t> moved = moved_between(before, stretch.row)) {
      moved_at = begin;
      place.last_hand = by.hand[*moved];
    }
    const Rows::Row row = row_of(slice, stretch.row);
    for (std::size_t tick = begin; tick < stretch.end;) {
      const Value ahead = quiet.ahead(place.machine.step(row), static_cast<Value>(stretch.end - tick - 1));
      place.machine.skip(ahead);
      tick += 1 + static_cast<std::size_t>(ahead);
    }
    begin = stretch.end;
    before = stretch.row;
  }
  place.inputs = row_of(slice, run.inputs.back());
  place.calm = static_cast<Value>(run.ticks() - moved_at);
  return place;
}

HandManner manner_of(const dsl::Model& model, const Slice& slice, const Operator& by) {
  HandManner manner{.apart = by.apart};
  const std::vector<Value> rest = rest_positions(model.circuit);
  std::vector<bool> slow(model.circuit.inputs().size(), false);
  for (const dsl::Constraint& constraint : model.constraints) {
    if (constraint.rate)
      slow[static_cast<std::size_t>(model.circuit.node(constraint.rate->hand).number)] = true;
  }
  for (const std::size_t input : slice.inputs) {
    manner.steady.push_back(by.steady[input]);
    manner.slow.push_back(slow[input]);
    manner.rest.push_back(rest[input]);
    manner.hand.push_back(by.hand[input]);
  }
  return manner;
}

/// The run so far and the way on from it, as a run of the whole; inputs that the slice does not look at stay.
Run joined(const Run& so_far, const Run& way, const Slice& slice, const std::vector<Value>& rest) {
  Run run = so_far;
  Rows::Row row = so_far.inputs.empty() ? rest : so_far.inputs.back();
  std::size_t begin = 0;
  for (const Rows::Stretch& stretch : way.inputs.stretches()) {
    for (std::size_t input = 0; input < slice.inputs.size(); ++input)
      row[slice.inputs[input]] = stretch.row[input];
    run.inputs.push_back(row, stretch.end - begin);
    begin = stretch.end;
  }
  return run;
}

class Way {
 public:
  Way(const dsl::Model& model, const Run& so_far, NodeId condition, const Operator& by,
      const OnwardLimits& how_far, const Limits& limits)
      : model_(model),
        so_far_(so_far),
        condition_(condition),
        how_far_(how_far),
        limits_(limits),
        slice_(slice_for(model, {condition})),
        machine_(machine_of(slice_, model, {condition})),
        by_(by),
        manner_(manner_of(model, slice_, by)),
        watchman_(limits, [this] { context_.interrupt(); }) {}

  Onward go() {
    const NodeId node = slice_.node_of[condition_];
    if (slice_.circuit.is_constant(node) && slice_.circuit.node(node).number == 0) return {};
    const Value left = how_far_.ticks - static_cast<Value>(so_far_.ticks());
    if (left <= 0) return {};
    try {
      if (!so_far_.inputs.empty()) start_ = at_end_of(so_far_, slice_, machine_.quiet, by_);
      EventSearch search(context_, machine_, node, left, manner_, start_ ? &*start_ : nullptr);
      return look(search);
    } catch (const z3::exception& problem) {
      const bool memory = std::string(problem.msg()).find("memory") != std::string::npos;
      if (!memory && limits_.reached() == Limit::none) {
        throw InternalDisagreement{std::string("Z3 did not understand a question: ") + problem.msg()};
      }
    } catch (const std::bad_alloc&) {
      // Told as stopped.
    }
    return {.kind = Onward::Kind::stopped};
  }

 private:
  Onward look(EventSearch& search) {
    while (search.steps() < how_far_.steps) {
      if (limits_.reached() != Limit::none) return {.kind = Onward::Kind::stopped};
      switch (search.deepen(how_far_.patience_ms)) {
        case EventSearch::Answer::found:
          try {
            return confirmed(search.run(shrink_ms));
          } catch (const InternalDisagreement&) {
            // Told to stop just then, Z3 may give what is no run (solver/reach.cpp).
            if (limits_.reached() == Limit::none) throw;
            return {.kind = Onward::Kind::stopped};
          }
        case EventSearch::Answer::not_yet:
          break;
        case EventSearch::Answer::unknown:
          return {.kind = limits_.reached() != Limit::none ? Onward::Kind::stopped : Onward::Kind::none};
        default:
          return {};
      }
    }
    return {};
  }

  Onward confirmed(const Run& way) const {
    Onward onward{.kind = Onward::Kind::found,
                  .run = joined(so_far_, way, slice_, rest_positions(model_.circuit))};
    if (!is_confirmed(model_, onward.run, condition_)) {
      throw InternalDisagreement{"a way on that was found does not do what it was found for"};
    }
    return onward;
  }

  const dsl::Model& model_;
  const Run& so_far_;
  NodeId condition_;
  const OnwardLimits& how_far_;
  const Limits& limits_;
  Slice slice_;
  Machine machine_;
  const Operator& by_;
  HandManner manner_;
  z3::context context_;
  Watchman watchman_;
  std::optional<OnTheWay> start_;
};

}  // namespace

std::vector<std::size_t> hands_of(const dsl::Model& model) {
  std::vector<std::size_t> hand(model.circuit.inputs().size());
  std::iota(hand.begin(), hand.end(), std::size_t{0});
  for (const dsl::Constraint& constraint : model.constraints) {
    const auto tied = tied_by(model.circuit, constraint.node);
    if (!tied) continue;
    const auto [low, high] = std::minmax(hand[tied->first], hand[tied->second]);
    const std::size_t to = low, from = high;
    std::replace(hand.begin(), hand.end(), from, to);
  }
  return hand;
}

Onward go_onward(const dsl::Model& model, const Run& so_far, NodeId condition, const Operator& by,
                 const OnwardLimits& how_far, const Limits& limits) {
  return Way(model, so_far, condition, by, how_far, limits).go();
}

}  // namespace detent::solver
