#include "dsl/side_by_side.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <string>
#include <utility>

#include "dsl/decimals.hpp"
#include "dsl/join.hpp"
#include "dsl/side_assumptions.hpp"

namespace detent::dsl {
namespace {

constexpr std::uint32_t not_there = std::numeric_limits<std::uint32_t>::max();

/// The index that each of `from`'s positions has in `to`.
std::vector<Value> places_in(const std::vector<std::string>& from, const std::vector<std::string>& to) {
  std::vector<Value> places;
  for (const std::string& word : from) {
    places.push_back(std::find(to.begin(), to.end(), word) - to.begin());
  }
  return places;
}

/// table[value of the node].
NodeId looked_up(Circuit& circuit, NodeId node, const std::vector<Value>& table) {
  bool same = true;
  for (std::size_t index = 0; index < table.size(); ++index)
    same = same && table[index] == static_cast<Value>(index);
  if (same) return node;
  NodeId result = circuit.constant(table.back());
  for (std::size_t index = table.size() - 1; index-- > 0;) {
    const NodeId here = circuit.equal(node, circuit.constant(static_cast<Value>(index)));
    result = circuit.choose(here, circuit.constant(table[index]), result);
  }
  return result;
}

class Builder {
 public:
  Builder(const Model& a, const Model& b, const Match& match) : from_{&a, &b}, match_(match) {
    both_.match = match;
    partner_[side_a].assign(a.signals.size(), not_there);
    partner_[side_b].assign(b.signals.size(), not_there);
    for (const auto* pairs : {&match.hands, &match.computed}) {
      for (const SignalPair& pair : *pairs) {
        partner_[side_a][pair.a] = pair.b;
        partner_[side_b][pair.b] = pair.a;
      }
    }
  }

  SideBySide run() {
    JoinedCircuit joined = join_circuits(from_[side_a]->circuit, from_[side_b]->circuit,
                                         [this](Circuit& circuit) { return place_inputs(circuit); });
    both_.model.circuit = std::move(joined.circuit);
    both_.node_of = std::move(joined.node_of);
    both_.model.title = from_[side_a]->title;
    both_.model.tick_us = from_[side_a]->tick_us;
    both_.model.longest_time = std::max(from_[side_a]->longest_time, from_[side_b]->longest_time);
    for (const std::size_t side : {side_a, side_b}) {
      for (const CircuitInput& input : from_[side]->circuit.inputs()) {
        both_.inputs_of[side].push_back(both_.node_of[side][input.node]);
      }
    }
    compare_computed();
    add_signals();
    put_assumptions_side_by_side({from_[side_a], from_[side_b]}, both_);
    static_cast<void>(both_.model.circuit.finish());
    return std::move(both_);
  }

 private:
  // ---- inputs ----
  const Signal* hand_of(std::size_t side, std::size_t input) const {
    for (const Signal& signal : from_[side]->signals) {
      if (signal.role == SignalRole::hand && signal.input == input) return &signal;
    }
    return nullptr;
  }
  const Signal* partner_of(std::size_t side, const Signal& signal) const {
    const auto index = static_cast<std::size_t>(&signal - from_[side]->signals.data());
    const std::uint32_t other = partner_[side][index];
    return other == not_there ? nullptr : &from_[1 - side]->signals[other];
  }

  /// A level in the coarser of two scales is what the hand moves: then the finer is a multiple of it.
  static bool a_moves(const Sort& a, const Sort& b) { return a.decimals <= b.decimals; }

  PlacedInputs place_inputs(Circuit& circuit) const {
    PlacedInputs placed;
    const auto& a_inputs = from_[side_a]->circuit.inputs();
    const auto& b_inputs = from_[side_b]->circuit.inputs();
    placed[side_b].assign(b_inputs.size(), no_node);
    for (std::size_t index = 0; index < a_inputs.size(); ++index) {
      const Signal* hand = hand_of(side_a, index);
      const Signal* other = hand == nullptr ? nullptr : partner_of(side_a, *hand);
      if (other == nullptr) {
        placed[side_a].push_back(circuit.input(a_inputs[index]));
      } else {
        const auto [one, two] = place_shared(circuit, *hand, *other);
        placed[side_a].push_back(one);
        placed[side_b][other->input] = two;
      }
    }
    for (std::size_t index = 0; index < b_inputs.size(); ++index) {
      if (placed[side_b][index] == no_node) placed[side_b][index] = circuit.input(b_inputs[index]);
    }
    return placed;
  }

  std::pair<NodeId, NodeId> place_shared(Circuit& circuit, const Signal& a, const Signal& b) const {
    const Sort& one = a.sort;
    const Sort& other = b.sort;
    if (!a_moves(one, other)) {
      const NodeId node = circuit.input(from_[side_b]->circuit.inputs()[b.input]);
      return {circuit.times(power_of_ten(one.decimals - other.decimals), node), node};
    }
    const NodeId node = circuit.input(from_[side_a]->circuit.inputs()[a.input]);
    if (one.kind == SortKind::position) {
      return {node, looked_up(circuit, node, places_in(one.positions, other.positions))};
    }
    return {node, circuit.times(power_of_ten(other.decimals - one.decimals), node)};
  }

  // ---- what is computed ----
  void compare_computed() {
    Circuit& circuit = both_.model.circuit;
    for (const SignalPair& pair : match_.computed) {
      const Signal& one = from_[side_a]->signals[pair.a];
      const Signal& other = from_[side_b]->signals[pair.b];
      const NodeId a = both_.node_of[side_a][one.node];
      const NodeId b = both_.node_of[side_b][other.node];
      switch (one.sort.kind) {
        case SortKind::condition:
          both_.compared.push_back({pair,
                                    {{Parting::a_above, circuit.and_(a, circuit.not_(b))},
                                     {Parting::b_above, circuit.and_(b, circuit.not_(a))}}});
          break;
        case SortKind::level:
          both_.compared.push_back({pair, compare_levels(one.sort, other.sort, a, b)});
          break;
        case SortKind::position: {
          const NodeId b_here = looked_up(circuit, b, places_in(other.sort.positions, one.sort.positions));
          both_.compared.push_back({pair, {{Parting::differ, circuit.not_(circuit.equal(a, b_here))}}});
          break;
        }
      }
    }
  }

  /// In the finer of the two scales.
  std::vector<Compared::Way> compare_levels(const Sort& one, const Sort& other, NodeId a, NodeId b) {
    Circuit& circuit = both_.model.circuit;
    const int finer = std::max(one.decimals, other.decimals);
    const NodeId left = circuit.times(power_of_ten(finer - one.decimals), a);
    const NodeId right = circuit.times(power_of_ten(finer - other.decimals), b);
    return {{Parting::a_above, circuit.less(right, left)}, {Parting::b_above, circuit.less(left, right)}};
  }

  // ---- signals ----
  std::uint32_t add_signal(Signal signal, const std::string& prefix, NodeId node) {
    Model& model = both_.model;
    signal.name = prefix + signal.name;
    signal.node = node;
    if (signal.role == SignalRole::hand) {
      signal.input = static_cast<std::uint32_t>(model.circuit.node(node).number);
    }
    model.signals.push_back(std::move(signal));
    return static_cast<std::uint32_t>(model.signals.size() - 1);
  }

  std::uint32_t add_own(std::size_t side, std::uint32_t index) {
    const Signal& signal = from_[side]->signals[index];
    return add_signal(signal, side == side_a ? "A: " : "B: ", both_.node_of[side][signal.node]);
  }

  void add_signals() {
    both_.signal_of[side_a].assign(from_[side_a]->signals.size(), not_there);
    both_.signal_of[side_b].assign(from_[side_b]->signals.size(), not_there);
    for (std::uint32_t index = 0; index < from_[side_a]->signals.size(); ++index) {
      const std::uint32_t other = partner_[side_a][index];
      if (other == not_there) {
        both_.signal_of[side_a][index] = add_own(side_a, index);
      } else {
        add_pair({index, other});
      }
    }
    for (std::uint32_t index = 0; index < from_[side_b]->signals.size(); ++index) {
      std::uint32_t& place = both_.signal_of[side_b][index];
      if (place == not_there) place = add_own(side_b, index);
    }
    choose_power_up();
  }

  void add_pair(const SignalPair& pair) {
    const Signal& one = from_[side_a]->signals[pair.a];
    const Signal& other = from_[side_b]->signals[pair.b];
    const NodeId a_node = both_.node_of[side_a][one.node];
    const NodeId b_node = both_.node_of[side_b][other.node];
    std::uint32_t& a_place = both_.signal_of[side_a][pair.a];
    std::uint32_t& b_place = both_.signal_of[side_b][pair.b];
    if (one.role == SignalRole::hand) {
      Signal moved = a_moves(one.sort, other.sort) ? one : other;
      moved.name = one.name;
      moved.doc = one.doc;
      a_place = b_place = add_signal(moved, "", a_moves(one.sort, other.sort) ? a_node : b_node);
      return;
    }
    const bool shown_alike =
        one.sort.decimals == other.sort.decimals && one.sort.positions == other.sort.positions;
    if (a_node == b_node && shown_alike) {
      a_place = b_place = add_signal(one, "", a_node);
    } else {
      a_place = add_own(side_a, pair.a);
      b_place = add_own(side_b, pair.b);
    }
  }

  void choose_power_up() {
    for (const std::size_t side : {side_b, side_a}) {
      const auto& choice = from_[side]->power_up_choice;
      if (choice) both_.model.power_up_choice = both_.signal_of[side][*choice];
    }
  }

  std::array<const Model*, 2> from_;
  const Match& match_;
  std::array<std::vector<std::uint32_t>, 2> partner_;
  SideBySide both_;
};

}  // namespace

SideBySide put_side_by_side(const Model& a, const Model& b, const Match& match) {
  return Builder(a, b, match).run();
}

Claim claim_beside(const SideBySide& both, std::size_t side, const Claim& claim) {
  const auto moved = [&](NodeId node) { return node == no_node ? no_node : both.node_of[side][node]; };
  Claim beside = claim;
  beside.watch = moved(claim.watch);
  beside.premise = moved(claim.premise);
  const auto move_piece = [&](Piece& piece) {
    piece.node = moved(piece.node);
    for (std::uint32_t& mention : piece.mentions) mention = both.signal_of[side][mention];
  };
  move_piece(beside.first);
  if (beside.second) move_piece(*beside.second);
  return beside;
}

}  // namespace detent::dsl
