// The search: for each of several conditions the shortest run that makes it true, tick by tick.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "dsl/circuit.hpp"
#include "solver/limits.hpp"
#include "solver/run.hpp"
#include "solver/verdict.hpp"

namespace detent::solver {

struct Question {
  NodeId node = dsl::no_node;
  Value ticks = 0;              ///< runs of up to this many ticks are looked at
  std::optional<Run> run = {};  ///< a run that makes the node true in its last tick, if one is known
  Value absent = 0;             ///< no run of up to this many ticks does
  Limit limit = Limit::none;    ///< what stopped the search, if anything did
  [[nodiscard]] bool is_settled() const { return absent >= ticks || is_shortest(); }
  [[nodiscard]] bool is_shortest() const { return run && absent + 1 >= static_cast<Value>(run->ticks()); }
};

/// A circuit, and the conditions that hold at every tick of every run that counts.
struct Setting {
  const dsl::Circuit* circuit = nullptr;
  std::vector<NodeId> constraints;
};

/// Called between questions with the number of ticks up to which any have been asked, which only grows, and
/// of questions still open, which only falls.
using SearchProgress = std::function<void(Value ticks, std::size_t open)>;

/// Settles the questions as far as the limits allow. Every run found has been replayed on the interpreter
/// node by node; throws InternalDisagreement where that gives other values.
void search(const Setting& setting, std::vector<Question>& questions, const Limits& limits,
            Statistics& statistics, const SearchProgress& progress = {});

/// The smallest number of ticks, up to `ticks`, of which the constraints leave no run; absent if there is
/// none or a limit was reached.
[[nodiscard]] std::optional<Value> shortest_impossible(const Setting& setting, Value ticks,
                                                       const Limits& limits, Statistics& statistics);

}  // namespace detent::solver
