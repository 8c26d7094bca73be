// Two designs as one model: inputs that both have are moved together, everything else stands beside each
// other.
//
// It is an ordinary model, so that the engines and the pages need to know nothing of two designs. What both
// compute by the same nodes is one signal; else a signal is called "A: live" or "B: live".
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "dsl/match.hpp"
#include "dsl/model.hpp"

namespace detent::dsl {

/// A way in which two signals can part: a condition is on in the one and off in the other, a level is above
/// the other. Positions have only one way: that they differ.
enum class Parting { a_above, b_above, differ };

/// Two computed signals, and the conditions that they part: none of them true is the two being the same.
struct Compared {
  SignalPair pair;  ///< indices into the designs' own signals
  /// One way, and the condition that they part in it.
  struct Way {
    Parting parting = Parting::differ;  ///< which way
    NodeId node = no_node;              ///< of the joined circuit
  };
  std::vector<Way> ways = {};  ///< all that there are
};

/// Two designs in one model.
struct SideBySide {
  /// Signals and constraints of both; no claims and no overlaps. The circuit is finished.
  Model model;
  Match match;                                 ///< what it was made by
  std::vector<Compared> compared;              ///< in the order of match.computed
  std::array<std::vector<NodeId>, 2> node_of;  ///< by design and its node
  std::array<std::vector<std::uint32_t>, 2>
      signal_of;                                 ///< by design and its signal: index into model.signals
  std::array<std::vector<NodeId>, 2> inputs_of;  ///< by design and its input
  std::array<std::vector<Constraint>, 2>
      constraints_of;  ///< each design's own, by nodes of the joined circuit
  /// Every run that one design allows, the other allows too.
  bool same_assumptions = false;
};

/// `match` must be what match_signals says of the two.
[[nodiscard]] SideBySide put_side_by_side(const Model& a, const Model& b, const Match& match);

/// A claim of one design, by nodes and signals of the two side by side.
[[nodiscard]] Claim claim_beside(const SideBySide& both, std::size_t side, const Claim& claim);

}  // namespace detent::dsl
