// The range of every node, so that the encoding knows how wide a number is and nothing can wrap.
//
// Interval analysis with widening and narrowing (Cousot and Cousot, "Abstract interpretation", POPL 1977).
// Nodes stand in evaluation order, so one pass settles all but the loops, which go through `previous`.
// A few passes let a `previous` grow step by step; one that is still growing is widened to the next number
// that the design names, and past the last of them to the largest number at once; then passes without memory
// shrink it again, down to what its loop allows: for min(previous(x) + 1, 100) that is [0, 100]. What does
// not shrink can grow without bound, and is reported. Minimum and maximum are recognised in `choose`, because
// a clamp is what bounds a loop.
#include <algorithm>
#include <iterator>
#include <optional>
#include <tuple>

#include "dsl/circuit.hpp"
#include "dsl/limits.hpp"

namespace detent::dsl {
namespace {

constexpr int growing_passes = 6;
constexpr int most_named = 40;  // passes that go to the next named number; then straight to the largest
constexpr int shrinking_passes = 4;

Range hull(const Range& one, const Range& other) {
  return {std::min(one.low, other.low), std::max(one.high, other.high)};
}

class Ranges {
 public:
  explicit Ranges(const Circuit& circuit) : circuit_(circuit), ranges_(circuit.nodes().size()) {
    for (const Node& node : circuit.nodes()) {
      if (node.kind == NodeKind::constant) {
        numbers_.push_back(node.number);
      }
    }
    std::sort(numbers_.begin(), numbers_.end());
  }

  std::vector<Range> compute() {
    pass([](const Range&, const Range& start, const Range*) { return start; });
    for (int count = 0; count < growing_passes && grow(false); ++count) {
    }
    while (grow(true)) {
      ++widened_;
    }
    for (int count = 0; count < shrinking_passes; ++count) {
      pass([](const Range&, const Range& start, const Range* operand) { return hull(start, *operand); });
    }
    return std::move(ranges_);
  }

 private:
  bool grow(bool widen) {
    const std::vector<Range> before = ranges_;
    pass([this, widen](const Range& old, const Range& start, const Range* operand) {
      const Range next = hull(old, hull(start, *operand));
      if (!widen) {
        return next;
      }
      return Range{next.low < old.low ? number_below(next.low) : next.low,
                   next.high > old.high ? number_above(next.high) : next.high};
    });
    return before != ranges_;
  }

  // Widening goes to the next number that the design itself names, since that is where loops are held.
  [[nodiscard]] Value number_above(Value value) const {
    const auto found = std::lower_bound(numbers_.begin(), numbers_.end(), value);
    return found == numbers_.end() || widened_ > most_named ? saturation : *found;
  }
  [[nodiscard]] Value number_below(Value value) const {
    const auto found = std::upper_bound(numbers_.begin(), numbers_.end(), value);
    return found == numbers_.begin() || widened_ > most_named ? -saturation : *std::prev(found);
  }

  // One pass in evaluation order; `memory` says what a `previous` becomes.
  template <typename Memory>
  void pass(Memory memory) {
    for (std::size_t id = 0; id < ranges_.size(); ++id) {
      const Node& node = circuit_.nodes()[id];
      if (node.condition) {
        ranges_[id] = node.kind == NodeKind::constant ? Range{node.number, node.number} : Range{0, 1};
      } else if (node.kind == NodeKind::previous) {
        ranges_[id] = memory(ranges_[id], Range{node.number, node.number}, &ranges_[node.a]);
      } else {
        ranges_[id] = of(node);
      }
    }
  }

  [[nodiscard]] Range of(const Node& node) const {
    switch (node.kind) {
      case NodeKind::constant:
        return {node.number, node.number};
      case NodeKind::input:
        return circuit_.inputs()[static_cast<std::size_t>(node.number)].range;
      case NodeKind::choose:
        return of_choose(node);
      case NodeKind::add:
        return {saturated(ranges_[node.a].low + ranges_[node.b].low),
                saturated(ranges_[node.a].high + ranges_[node.b].high)};
      case NodeKind::times: {
        const Value low = saturating_product(node.number, ranges_[node.a].low);
        const Value high = saturating_product(node.number, ranges_[node.a].high);
        return {std::min(low, high), std::max(low, high)};
      }
      case NodeKind::age:
        return {0, node.cap};
      default:
        return {0, 1};
    }
  }

  [[nodiscard]] Range of_choose(const Node& node) const {
    const Range& b = ranges_[node.b];
    const Range& c = ranges_[node.c];
    const Node& test = circuit_.nodes()[node.a];
    if (test.kind == NodeKind::less_equal && test.a == node.b && test.b == node.c) {
      return {std::min(b.low, c.low), std::min(b.high, c.high)};
    }
    if (test.kind == NodeKind::less_equal && test.a == node.c && test.b == node.b) {
      return {std::max(b.low, c.low), std::max(b.high, c.high)};
    }
    return hull(b, c);
  }

  const Circuit& circuit_;
  std::vector<Range> ranges_;
  int widened_ = 0;
  std::vector<Value> numbers_;  ///< all constants, ascending
};

}  // namespace

std::vector<NodeId> Circuit::finish() {
  const std::vector<Range> ranges = Ranges(*this).compute();
  std::vector<NodeId> unbounded;
  for (std::size_t id = 0; id < nodes_.size(); ++id) {
    nodes_[id].range = ranges[id];
    if (ranges[id].low < -largest_level || ranges[id].high > largest_level) {
      unbounded.push_back(static_cast<NodeId>(id));
    }
  }
  return unbounded;
}

}  // namespace detent::dsl
