// The circuit: the compiled form of a design, a graph of few node kinds of which two remember.
// The readable form of a design is dsl/design.hpp; the interpreter and the encoding for Z3 share only this.
//
// Nodes stand in evaluation order: the operands of a node come before it, except what `previous` remembers,
// which may come later (that is how loops are closed). The same expression is the same node (hash-consing:
// Ershov, "On programming of arithmetic operations", CACM 1(8), 1958).
//
// One tick is evaluated in one pass over the nodes; conditions are 0 and 1, everything else an integer.
#pragma once

#include <cstdint>
#include <functional>
#include <limits>
#include <string>
#include <unordered_map>
#include <vector>

namespace detent::dsl {

/// A node, by its index in Circuit::nodes().
using NodeId = std::uint32_t;
/// 0/1 for a condition; scaled integer for a level; index of a position or stage; ticks of a time.
using Value = std::int64_t;

/// Stands where there is no node.
inline constexpr NodeId no_node = std::numeric_limits<NodeId>::max();

/// What a node computes from its operands a, b and c.
enum class NodeKind : std::uint8_t {
  constant,    ///< number
  input,       ///< number = index into Circuit::inputs()
  not_,        ///< not a
  and_,        ///< a and b
  or_,         ///< a or b
  choose,      ///< if a then b else c; b and c both conditions or both numbers
  equal,       ///< a == b, of two conditions or two numbers
  less_equal,  ///< a <= b, numbers
  add,         ///< a + b
  times,       ///< number * a
  previous,    ///< a one tick ago; `number` at tick 0
  age,         ///< ticks since condition a was last true (0 while it is), saturating at `cap`;
               ///< number = 1: counted as if a had been true just before tick 0; 0: never true before tick 0
};

/// What a node's values can be. Levels and ages are known to stay within [low, high] in every run.
struct Range {
  Value low = 0;                                                 ///< not above this
  Value high = 0;                                                ///< nor below this
  friend bool operator==(const Range&, const Range&) = default;  ///< both ends are the same
};

/// One node. What its kind does not use stays as it is here.
struct Node {
  NodeKind kind = NodeKind::constant;  ///< what it computes
  bool condition = false;              ///< a truth value, else a number
  NodeId a = no_node;                  ///< first operand
  NodeId b = no_node;                  ///< second operand
  NodeId c = no_node;                  ///< third operand
  Value number = 0;                    ///< see NodeKind
  Value cap = 0;     ///< age only: the value at which it stops counting, > every number it is compared with
  Range range = {};  ///< filled in by Circuit::finish(); {0, 1} for conditions
};

/// One free input: every tick it may take any of low, low + step, …, high (high is on the grid).
struct CircuitInput {
  std::string name;        ///< for people; two may have the same
  bool condition = false;  ///< a truth value, else a number
  Range range = {0, 1};    ///< low and high
  Value step = 1;          ///< > 0
  NodeId node = no_node;   ///< filled in by Circuit::input()
};

/// Builds and holds the graph. Building functions simplify only what is true for every value
/// (constants, not not a, a and a, …), so that two spellings of one thing meet in one node.
///
/// Operands must be nodes of this circuit and of the right kind (conditions or numbers): that is the caller's
/// duty, and dsl::lower keeps it; it is not looked at here. Reading is free to any number of threads;
/// building is for one.
class Circuit {
 public:
  NodeId constant(Value number);                                  ///< a number
  NodeId truth(bool value);                                       ///< true or false
  NodeId input(CircuitInput description);                         ///< one more input, free in every tick
  NodeId not_(NodeId a);                                          ///< not a
  NodeId and_(NodeId a, NodeId b);                                ///< a and b
  NodeId or_(NodeId a, NodeId b);                                 ///< a or b
  NodeId implies(NodeId a, NodeId b) { return or_(not_(a), b); }  ///< not a, or b
  NodeId choose(NodeId a, NodeId b,
                NodeId c);                ///< b where a is true, else c; both conditions or both numbers
  NodeId equal(NodeId a, NodeId b);       ///< of two conditions or two numbers
  NodeId less_equal(NodeId a, NodeId b);  ///< a <= b, numbers
  NodeId less(NodeId a, NodeId b) { return not_(less_equal(b, a)); }  ///< a < b, numbers
  NodeId add(NodeId a, NodeId b);                                     ///< a + b
  NodeId times(Value factor, NodeId a);                               ///< factor * a
  NodeId previous(NodeId a, Value start);                             ///< a one tick ago; `start` at tick 0

  /// A `previous` whose operand is not built yet; connect() must follow before finish().
  NodeId open_previous(bool condition, Value start);
  /// Gives an open_previous its operand, which may look at it.
  void connect(NodeId open, NodeId operand);

  /// Ticks since the condition a was last true; see NodeKind::age. Saturates where nothing compares it any
  /// more.
  NodeId age(NodeId a, bool just_before_start);
  /// age(a) <= ticks, raising the age's cap so that the answer is exact. ticks >= 0.
  NodeId age_at_most(NodeId age, Value ticks);

  /// true at tick 0 only.
  NodeId first_tick();

  /// Fills in every node's range. Returns the nodes whose value may grow without bound (normally none);
  /// such a circuit must not be used.
  [[nodiscard]] std::vector<NodeId> finish();

  /// In the order of evaluation.
  [[nodiscard]] const std::vector<Node>& nodes() const { return nodes_; }
  /// `id` must be one of this circuit's.
  [[nodiscard]] const Node& node(NodeId id) const { return nodes_[id]; }
  /// In the order in which they were made.
  [[nodiscard]] const std::vector<CircuitInput>& inputs() const { return inputs_; }
  /// Whether the node is a number or a truth value that never changes.
  [[nodiscard]] bool is_constant(NodeId id) const { return nodes_[id].kind == NodeKind::constant; }

 private:
  NodeId make(const Node& node);
  std::vector<Node> nodes_;
  std::vector<CircuitInput> inputs_;
  std::unordered_multimap<std::size_t, NodeId> known_;
};

/// The graph as text, a line a node: `12: and 3 11   // live`. `name` may give a node's name, or "".
[[nodiscard]] std::string to_text(const Circuit& circuit,
                                  const std::function<std::string(NodeId)>& name = {});

}  // namespace detent::dsl
