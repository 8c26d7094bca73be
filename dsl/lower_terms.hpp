// Expressions and the small machines that elements and claims share, built as nodes. Private to lowering.
#pragma once

#include <map>
#include <tuple>
#include <utility>
#include <vector>

#include "dsl/circuit.hpp"
#include "dsl/design.hpp"

namespace detent::dsl {

/// Builds nodes for one design. The same machine over the same nodes is built once, so that a claim's clock
/// and the element's clock are one node where they watch the same event.
class TermBuilder {
 public:
  TermBuilder(const Design& design, Circuit& circuit);

  [[nodiscard]] NodeId build(const Term& term);

  // Clocks and memories. Times in ticks.
  [[nodiscard]] NodeId rises(NodeId a);
  [[nodiscard]] NodeId held(NodeId a, Value ticks);      ///< a, and for `ticks` ticks before as well
  [[nodiscard]] NodeId recently(NodeId a, Value ticks);  ///< a now or in one of the `ticks` ticks before
  [[nodiscard]] NodeId since(NodeId a, NodeId b, bool start);
  [[nodiscard]] NodeId latch(NodeId set, NodeId reset, bool set_wins, bool start);
  [[nodiscard]] NodeId minimum(NodeId a, NodeId b);
  [[nodiscard]] NodeId maximum(NodeId a, NodeId b);

  /// Which nodes stand for an element; set when the element has been lowered.
  struct Meaning {
    NodeId node = no_node;  ///< as the design sees it
    NodeId hand = no_node;  ///< inputs: before any link
  };
  std::vector<Meaning> meanings;
  /// Input that decides whether edges count at tick 0, for `power_up edges either`.
  NodeId edge_choice = no_node;

  /// Closes the loops that went through `previous` of something later. Call once all elements are lowered.
  void connect_loops();

 private:
  [[nodiscard]] NodeId edges_count();
  [[nodiscard]] NodeId changes(NodeId a);
  [[nodiscard]] NodeId hysteresis(NodeId value, NodeId on, NodeId off, bool below);
  [[nodiscard]] NodeId previous(const Term& term);
  [[nodiscard]] NodeId fold(const Term& term, NodeId (Circuit::*join)(NodeId, NodeId));
  [[nodiscard]] bool is_lowered(const Term& term) const;

  const Design& design_;
  Circuit& circuit_;
  std::map<std::tuple<NodeId, NodeId, bool, bool>, NodeId> latches_;
  std::vector<std::pair<NodeId, Term>> loops_;
};

}  // namespace detent::dsl
