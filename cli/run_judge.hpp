// What the claims say of one run that is at hand, tick by tick: nothing is searched for.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "cli/chronicle.hpp"
#include "cli/json_run.hpp"
#include "cli/page.hpp"
#include "cli/player.hpp"

namespace detent::cli {

/// Of a safety claim where it breaks first, of a `possible` one where it is done first (in time, if it has
/// one).
struct ClaimOnRun {
  std::uint32_t claim = 0;
  std::optional<Value> tick = {};
  std::string words = {};  ///< the sentence that says so
  Page diagram = {};       ///< of the run up to there; empty where there is none
};

/// Claims watched while a run is played.
class ClaimWatch {
 public:
  ClaimWatch(const dsl::Model& model, const std::vector<std::uint32_t>& claims);

  /// Looks at one tick; returns the places in claims() of what breaks or is done there for the first time.
  /// Their words are for the caller to fill in.
  std::vector<std::size_t> look(const std::vector<Value>& values, Value tick);

  [[nodiscard]] std::vector<ClaimOnRun>& claims() { return claims_; }

 private:
  const dsl::Model* model_;
  std::vector<ClaimOnRun> claims_;
};

/// An assumption that does not hold in a tick.
struct Unkept {
  std::size_t constraint = 0;  ///< index into Model::constraints
  Value tick = 0;
};
[[nodiscard]] std::optional<std::size_t> unkept_in(const dsl::Model& model, const std::vector<Value>& values);

/// "the assumption one_thumb ("…", line 7)", "what is said of power-up (…)", "that thrust moves at most 8 %
/// per tick".
[[nodiscard]] std::string assumption_words(const dsl::Model& model, const dsl::Sources& sources,
                                           std::size_t constraint);

struct RunJudgement {
  std::vector<ClaimOnRun> claims;
  std::optional<Unkept> unkept = {};  ///< the run was judged up to the tick before
};

/// Plays the run. With `terminal` there are diagrams too.
[[nodiscard]] RunJudgement judge(const dsl::Model& model, const HandRun& run,
                                 const std::vector<std::uint32_t>& claims, const Terminal& terminal);

/// How a claim's last tick came about, for one that is broken (or done) at the end of the trace: what it
/// names, and all hands and outputs that move.
[[nodiscard]] Page run_diagram(const dsl::Model& model, const dsl::Claim& claim, const solver::Trace& trace,
                               const Terminal& terminal);

/// A block for each claim that is broken, and a list of the others.
[[nodiscard]] Page claims_page(const dsl::Model& model, const dsl::Sources& sources,
                               const std::vector<ClaimOnRun>& claims, const Terminal& terminal);

[[nodiscard]] bool any_broken(const dsl::Model& model, const std::vector<ClaimOnRun>& claims);

[[nodiscard]] Json json_claims(const dsl::Model& model, const dsl::Sources& sources,
                               const std::vector<ClaimOnRun>& claims);
[[nodiscard]] Json json_unkept(const dsl::Model& model, const std::optional<Unkept>& unkept);

}  // namespace detent::cli
