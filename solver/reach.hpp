// Can these conditions ever become true? For all time: the answer is a shortest run, or a proof that none is.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "dsl/model.hpp"
#include "solver/limits.hpp"
#include "solver/proof.hpp"
#include "solver/verdict.hpp"

namespace detent::solver {

struct ReachAnswer {
  enum class Kind { never, reached, unknown } kind = Kind::unknown;
  std::optional<Run> run =
      {};  ///< reached: of the whole circuit, keeps all constraints, true in its last tick
  std::optional<Proof> proof = {};  ///< never
  int events = 0;                   ///< unknown: no run of so many events reaches it
  Limit limit = Limit::none;        ///< unknown: why
};

struct ReachQuestion {
  NodeId condition = dsl::no_node;
  bool wants_run = true;  ///< else any answer `reached` will do, without a run
  bool hopeful = false;   ///< the asker thinks that it will be reached
};

struct ReachReport {
  std::vector<ReachAnswer> answers;  ///< one for each question
  /// Set where the constraints leave no run of this many ticks.
  std::optional<Value> no_run_of = {};
  Statistics statistics;
};

struct ReachOptions {
  bool small_proofs = false;                            ///< cut each proof's invariant down to what it needs
  std::function<void(std::size_t open)> progress = {};  ///< how many are left, from the calling thread
};

/// Asks all questions of one slice together, so that they share what is found out about it.
/// Throws InternalDisagreement.
[[nodiscard]] ReachReport reach(const dsl::Model& model, const std::vector<ReachQuestion>& questions,
                                const Limits& limits, const ReachOptions& options);

}  // namespace detent::solver
