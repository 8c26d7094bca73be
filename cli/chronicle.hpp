// What was played, kept by its changes, so that hours of quiet take no room; for the words and diagrams that
// are made from a trace.
#pragma once

#include <cstddef>
#include <memory>
#include <vector>

#include "dsl/model.hpp"
#include "solver/run.hpp"

namespace detent::cli {

class Chronicle {
 public:
  /// `watched`: a tick in which all of these nodes are as in the tick before is not kept apart from it. The
  /// circuit must outlive it.
  Chronicle(const dsl::Circuit& circuit, std::vector<dsl::NodeId> watched)
      : circuit_(&circuit), watched_(std::move(watched)) {}

  /// `count` ticks more in which every node has these values.
  void add(const std::vector<dsl::Value>& values, dsl::Value count = 1);

  /// Forgets all but the first `ticks`.
  void cut(std::size_t ticks);

  /// Exact in the watched nodes at every tick.
  [[nodiscard]] const solver::Trace& trace() const;
  [[nodiscard]] std::size_t ticks() const { return ticks_; }
  /// The same, with the true values of all nodes in the last tick and the one before it.
  [[nodiscard]] solver::Trace ending(const std::vector<dsl::Value>& before,
                                     const std::vector<dsl::Value>& last) const;
  /// Roughly what it takes, in bytes.
  [[nodiscard]] std::size_t size() const;

 private:
  const dsl::Circuit* circuit_;
  std::vector<dsl::NodeId> watched_;
  std::vector<solver::Trace::Moment> moments_;
  std::size_t ticks_ = 0;
  mutable std::shared_ptr<const solver::Trace> trace_;  ///< made when it is asked for
};

/// What people are told of: every signal, the pieces of every claim, every claim's and assumption's own node.
[[nodiscard]] std::vector<dsl::NodeId> told_nodes(const dsl::Model& model);

/// The same without the levels, which may be different in every tick of a log.
[[nodiscard]] std::vector<dsl::NodeId> condition_nodes(const dsl::Model& model);

}  // namespace detent::cli
