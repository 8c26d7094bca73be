// Walks back from the end of a run, from each value to the values that made it so: of a false `and` one false
// operand, of a true one both, of a clock the tick of its event, and so on (as in Ball, Naik, Rajamani, "From
// symptom to cause", POPL 2003, causes are sought by going back along what was read; here the run is the only
// witness).
#include <algorithm>
#include <map>
#include <optional>
#include <utility>

#include "solver/interpreter.hpp"
#include "solver/why.hpp"

namespace detent::solver {
namespace {

using dsl::Node;
using dsl::NodeKind;

struct Moment {
  NodeId node = dsl::no_node;
  std::size_t tick = 0;
  friend auto operator<=>(const Moment&, const Moment&) = default;  // NOLINT(modernize-use-nullptr)
};

class Explainer {
 public:
  Explainer(const dsl::Model& model, const Run& run) : model_(model), trace_(replay(model.circuit, run)) {
    for (std::uint32_t index = 0; index < model.signals.size(); ++index) {
      signal_of_.try_emplace(model.signals[index].node, index);
    }
  }

  std::vector<Cause> explain(NodeId condition) {
    // The condition itself may have no name: then its reasons stand for it.
    visit(named_reasons({condition, trace_.ticks() - 1}));
    return in_order();
  }

 private:
  [[nodiscard]] Value at(const Moment& moment) const { return trace_.at(moment.tick, moment.node); }
  [[nodiscard]] const Node& node(const Moment& moment) const { return model_.circuit.node(moment.node); }

  /// Since when the node has had this value.
  [[nodiscard]] Moment since(Moment moment) const {
    moment.tick = trace_.since(moment.tick, moment.node);
    return moment;
  }

  /// Goes back from these to the hands; without recursion, because runs may be long.
  void visit(std::vector<Moment> open) {
    while (!open.empty()) {
      const Moment moment = open.back();
      open.pop_back();
      if (reasons_.count(moment) != 0) {
        continue;
      }
      const std::vector<Moment>& reasons = reasons_[moment] = reasons_for_named(moment);
      open.insert(open.end(), reasons.begin(), reasons.end());
    }
  }

  std::vector<Moment> reasons_for_named(const Moment& moment) {
    std::vector<Moment> reasons;
    for (const Moment& reason : direct_reasons(moment)) {
      for (const Moment& named : named_reasons(reason)) {
        if (named != moment && std::find(reasons.begin(), reasons.end(), named) == reasons.end()) {
          reasons.push_back(named);
        }
      }
    }
    return reasons;
  }

  /// The named values behind a moment, itself if it has a name; each at the tick from which it holds.
  std::vector<Moment> named_reasons(const Moment& from) {
    std::vector<Moment> named;
    std::vector<Moment> open{from};
    std::map<Moment, bool> seen;
    while (!open.empty()) {
      const Moment moment = open.back();
      open.pop_back();
      if (!seen.try_emplace(moment, true).second) {
        continue;
      }
      if (signal_of_.count(moment.node) != 0) {
        named.push_back(since(moment));
        continue;
      }
      for (const Moment& reason : direct_reasons(moment)) {
        open.push_back(reason);
      }
    }
    return named;
  }

  [[nodiscard]] std::vector<Moment> direct_reasons(const Moment& moment) const {
    const Node& made = node(moment);
    const auto now = [&](NodeId id) { return Moment{id, moment.tick}; };
    switch (made.kind) {
      case NodeKind::constant:
      case NodeKind::input:
        return {};
      case NodeKind::not_:
      case NodeKind::times:
        return {now(made.a)};
      case NodeKind::and_:
        return at(moment) != 0 ? std::vector{now(made.a), now(made.b)} : one_of(now(made.a), now(made.b), 0);
      case NodeKind::or_:
        return at(moment) == 0 ? std::vector{now(made.a), now(made.b)} : one_of(now(made.a), now(made.b), 1);
      case NodeKind::choose:
        return {now(made.a), now(trace_.at(moment.tick, made.a) != 0 ? made.b : made.c)};
      case NodeKind::equal:
      case NodeKind::less_equal:
      case NodeKind::add:
        return {now(made.a), now(made.b)};
      case NodeKind::previous:
        return moment.tick == 0 ? std::vector<Moment>{} : std::vector{Moment{made.a, moment.tick - 1}};
      case NodeKind::age:
        return last_event(made.a, moment.tick);
    }
    return {};
  }

  /// Of two operands that are enough by themselves, the one that has been so for longest.
  [[nodiscard]] std::vector<Moment> one_of(const Moment& one, const Moment& other, Value enough) const {
    if (at(one) != enough) {
      return {other};
    }
    if (at(other) != enough) {
      return {one};
    }
    return {since(one).tick <= since(other).tick ? one : other};
  }

  [[nodiscard]] std::vector<Moment> last_event(NodeId event, std::size_t tick) const {
    if (trace_.at(tick, event) != 0) {
      return {{event, tick}};
    }
    const std::size_t gone = trace_.since(tick, event);
    return {Moment{event, gone > 0 ? gone - 1 : tick}};  // or it never came
  }

  std::vector<Cause> in_order() {
    std::vector<Moment> moments;
    for (const auto& [moment, reasons] : reasons_) {
      moments.push_back(moment);
    }
    std::stable_sort(moments.begin(), moments.end(), [](const Moment& one, const Moment& other) {
      return std::pair{one.tick, one.node} < std::pair{other.tick, other.node};
    });
    std::map<Moment, std::size_t> place;
    std::vector<Cause> causes;
    for (const Moment& moment : moments) {
      Cause cause{.signal = signal_of_.at(moment.node), .tick = moment.tick, .value = at(moment)};
      for (const Moment& reason : reasons_.at(moment)) {
        const auto found = place.find(reason);
        if (found != place.end()) {
          cause.because.push_back(found->second);
        }
      }
      place.emplace(moment, causes.size());
      causes.push_back(std::move(cause));
    }
    return causes;
  }

  const dsl::Model& model_;
  Trace trace_;
  std::map<NodeId, std::uint32_t> signal_of_;
  std::map<Moment, std::vector<Moment>> reasons_;
};

}  // namespace

std::vector<Cause> causes_of(const dsl::Model& model, NodeId condition, const Run& run) {
  return Explainer(model, run).explain(condition);
}

}  // namespace detent::solver
