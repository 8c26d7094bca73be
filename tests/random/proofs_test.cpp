// Proofs for all time against a look at all that a design can ever reach: what is proved is never reached,
// what is reached is refuted with the shortest run, and nothing is called shown or refuted that is not.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <chrono>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "dsl/front.hpp"
#include "solver/forever.hpp"
#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"
#include "tests/support/design_generator.hpp"
#include "tests/support/every_run.hpp"
#include "tests/support/other_solvers.hpp"
#include "tests/support/seeds.hpp"

using namespace detent;
using namespace detent::test;

namespace {

using dsl::Value;
using solver::Outcome;
using Words = std::optional<std::string>;

constexpr std::size_t most_steps = 400'000;
constexpr std::size_t most_ticks = 100'000;
constexpr std::chrono::seconds patience{5};

struct Tally {
  std::size_t compared = 0, left_out = 0, evidence = 0, proved = 0, vacuous = 0, refuted = 0, shown = 0,
              undecided = 0, longer = 0;
  std::vector<std::uint64_t> left_open = {};  ///< seeds of designs with an undecided claim
};

struct Expected {
  Outcome outcome = Outcome::proved;
  Value ticks = 0;  ///< of the run
  bool vacuous = false;
};

Expected expected_of(const dsl::Claim& claim, const Length& watch, const Length& premise) {
  const auto ticks = static_cast<Value>(watch.value_or(0));
  if (!claim.possible) {
    if (watch) return {Outcome::refuted, ticks, false};
    return {Outcome::proved, 0, claim.premise != dsl::no_node && !premise};
  }
  const bool in_time = watch && (!claim.within || ticks <= *claim.within + 1);
  return in_time ? Expected{Outcome::shown, ticks, false} : Expected{Outcome::refuted, 0, false};
}

bool does_it_at_its_end(const dsl::Model& model, const solver::Run& run, dsl::NodeId node) {
  const solver::Trace trace = solver::replay(model.circuit, run);
  for (std::size_t tick = 0; tick < trace.ticks(); ++tick) {
    for (const dsl::Constraint& one : model.constraints) {
      if (trace.at(tick, one.node) == 0) return false;
    }
    if ((trace.at(tick, node) != 0) != (tick + 1 == trace.ticks())) return false;
  }
  return solver::is_well_formed(model.circuit, run);
}

/// `in_time`: else a premise may have been left undecided, and then a proof is not called vacuous.
Words of_claim(const dsl::Model& model, const EveryRun& every, const solver::Verdict& verdict, bool in_time,
               Tally& tally) {
  const dsl::Claim& claim = model.claims[verdict.claim];
  const Expected expected = expected_of(claim, every.watch[verdict.claim], every.premise[verdict.claim]);
  const bool premise_left = !in_time && expected.vacuous && !verdict.vacuous;
  if (verdict.outcome == Outcome::undecided || (verdict.outcome == Outcome::proved && premise_left)) {
    ++tally.undecided;
    return {};
  }
  tally.proved += verdict.outcome == Outcome::proved ? 1 : 0;
  tally.vacuous += verdict.vacuous ? 1 : 0;
  tally.refuted += verdict.outcome == Outcome::refuted ? 1 : 0;
  tally.shown += verdict.outcome == Outcome::shown ? 1 : 0;
  if (verdict.outcome != expected.outcome || verdict.vacuous != expected.vacuous) {
    return fmt::format("claim {}: outcome {} vacuous {}, but {} {} expected", claim.name,
                       static_cast<int>(verdict.outcome), verdict.vacuous, static_cast<int>(expected.outcome),
                       expected.vacuous);
  }
  if (expected.ticks == 0) return {};
  if (!verdict.run) return fmt::format("claim {}: no run", claim.name);
  // Fewest events come before fewest ticks, so that it may be longer; but in time where there is a deadline.
  const auto ticks = static_cast<Value>(verdict.run->ticks());
  const bool too_late = claim.possible && claim.within && ticks > *claim.within + 1;
  if (ticks < expected.ticks || too_late) {
    return fmt::format("claim {}: a run of {} ticks, {} expected", claim.name, ticks, expected.ticks);
  }
  tally.longer += ticks > expected.ticks ? 1U : 0U;
  return does_it_at_its_end(model, *verdict.run, claim.watch)
             ? Words()
             : fmt::format("claim {}: a wrong run", claim.name);
}

/// Proofs on their way to another solver, many at a time.
class Evidence {
 public:
  explicit Evidence(std::vector<std::string> solvers) : solvers_(std::move(solvers)) {}

  void add(const dsl::Model& model, const solver::Report& report) {
    if (solvers_.empty()) return;
    for (const solver::Verdict& verdict : report.verdicts) {
      if (!verdict.proof) continue;
      for (std::string& question : questions_of(model, *verdict.proof))
        questions_.push_back(std::move(question));
    }
  }

  /// Asks what has been gathered, if that is much or `all`; says what was objected to.
  Words ask(bool all, Tally& tally) {
    if (questions_.empty() || (!all && questions_.size() < 60)) return {};
    const std::vector<std::string> asked = std::exchange(questions_, {});
    tally.evidence += asked.size() / 3;
    for (const std::string& solver : solvers_) {
      const std::vector<std::string> said = answers(solver, asked);
      for (std::size_t index = 0; index < said.size(); ++index) {
        if (said[index] != "unsat") return solver + ": " + said[index] + "\n" + asked[index];
      }
    }
    return {};
  }

 private:
  std::vector<std::string> solvers_;
  std::vector<std::string> questions_;
};

/// The last one found is cvc5, which shares nothing with the engine.
std::vector<std::string> other_solver() {
  std::string missing;
  const std::vector<std::string> found = solvers_here(missing);
  if (!missing.empty()) WARN(missing << "it was not asked");
  return found.empty() ? found : std::vector<std::string>{found.back()};
}

Words difference(const dsl::Model& model, Tally& tally, Evidence& evidence) {
  solver::ForeverOptions options;
  options.timeout = patience;
  const solver::Report report = solver::check_forever(model, options);
  evidence.add(model, report);
  const EveryRun every = every_run(model, most_ticks, most_steps);
  if (!every.forever || every.dead_end) {
    ++tally.left_out;
    return {};
  }
  ++tally.compared;
  if (report.no_run_of) return "runs that can't go on";
  const bool in_time = report.statistics.seconds < patience.count();
  for (const solver::Verdict& verdict : report.verdicts) {
    if (Words words = of_claim(model, every, verdict, in_time, tally)) return words;
  }
  for (const std::uint32_t signal : report.never_change) {
    if (every.changes[signal]) return model.signals[signal].name + " does change";
  }
  return {};
}

Words difference_or_fault(const dsl::Model& model, Tally& tally, Evidence& evidence) {
  try {
    return difference(model, tally, evidence);
  } catch (const solver::InternalDisagreement& fault) {
    return std::string("two readings disagree: ") + fault.what();
  }
}

bool still_differs(const std::string& text) {
  Tally unused;
  Evidence not_asked({});
  const dsl::Compiled result = dsl::compile_text("", text);
  return result.model && difference_or_fault(*result.model, unused, not_asked).has_value();
}

}  // namespace

TEST_CASE("Proofs for all time agree with all that can be reached", "[proofs]") {
  const Seeds range = seeds(60);
  Tally tally;
  Evidence evidence(other_solver());
  for (std::uint64_t seed = range.first; seed < range.first + range.count; ++seed) {
    const std::string text = random_design(seed);
    const std::size_t undecided_before = tally.undecided;
    const Words words = difference_or_fault(compiled(text), tally, evidence);
    if (tally.undecided > undecided_before) tally.left_open.push_back(seed);
    const bool last = seed + 1 == range.first + range.count;
    if (const Words objection = evidence.ask(last, tally)) {
      FAIL_CHECK("up to seed " << seed << ": " << *objection);
    }
    if (!words) {
      SUCCEED();
      continue;
    }
    FAIL_CHECK("seed " << seed << ": " << *words << "\n" << shrunk(text, still_differs));
  }
  WARN(fmt::format(
      "{} designs compared, {} left out; claims: {} proved, {} vacuous, {} refuted, {} shown, "
      "{} undecided; {} runs have fewer events but more ticks than the shortest; {} proofs put to "
      "another solver; undecided in seeds [{}]",
      tally.compared, tally.left_out, tally.proved, tally.vacuous, tally.refuted, tally.shown,
      tally.undecided, tally.longer, tally.evidence, fmt::join(tally.left_open, ", ")));
  CHECK(tally.compared * 3 > range.count);  // else the comparison says little
}

TEST_CASE("What is possible only after its time is refuted", "[proofs]") {
  const dsl::Model model = compiled(
      "tick 1 ms\nbutton b\ndelay d on b for 5 ticks\n"
      "claim late: possible d within 4 ticks\nclaim in_time: possible d within 5 ticks\n");
  const solver::Report report = solver::check_forever(model, {});
  CHECK(report.verdicts[0].outcome == Outcome::refuted);
  CHECK_FALSE(report.verdicts[0].run);
  CHECK(report.verdicts[1].outcome == Outcome::shown);
}
