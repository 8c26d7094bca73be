// Skipped time against the interpreter (the rules are in solver/steps.cpp), and faults put in on purpose, to
// see that and by what each is noticed: a threshold forgotten, and a clock that stops too early. No outside
// source: these are the program's own claims about itself.
#include <z3++.h>

#include <algorithm>
#include <deque>
#include <optional>
#include <set>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "solver/bounded.hpp"
#include "solver/event_search.hpp"
#include "solver/forever.hpp"
#include "solver/induction.hpp"
#include "solver/interpreter.hpp"
#include "solver/machine.hpp"
#include "solver/verdict.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"
#include "tests/support/design_generator.hpp"
#include "tests/support/other_solvers.hpp"
#include "tests/support/random_circuit.hpp"
#include "tests/support/seeds.hpp"
#include "tests/support/skipped_run.hpp"

using namespace detent;
using namespace detent::test;

namespace {

using dsl::NodeId;
using dsl::Value;
using solver::EventSearch;
using solver::Induction;
using solver::Machine;

std::vector<NodeId> watches(const dsl::Model& model) {
  std::vector<NodeId> nodes;
  for (const dsl::Claim& claim : model.claims) nodes.push_back(claim.watch);
  return nodes;
}

struct Tally {
  Value quiet = 0;
  std::size_t ramps_moved = 0, runs = 0;
};

/// Fewest events to each of these conditions, by a look at all runs of a circuit without ramps (0-1
/// breadth-first search). A tick in which all but clocks is as in the tick before costs nothing; each other
/// is an event.
class FewestEvents {
 public:
  FewestEvents(const dsl::Circuit& circuit, std::vector<NodeId> constraints)
      : circuit_(circuit), constraints_(std::move(constraints)), rows_(all_rows(circuit)) {}

  /// Nothing if there are too many states to look at. A condition that is never true has no number.
  std::optional<std::vector<std::optional<int>>> look(const std::vector<NodeId>& conditions) {
    std::vector<std::optional<int>> fewest(conditions.size());
    std::deque<std::pair<int, solver::Interpreter>> open{{0, solver::Interpreter(circuit_)}};
    std::set<std::vector<Value>> closed;
    while (!open.empty()) {
      const auto [events, here] = open.front();
      open.pop_front();
      if (!closed.insert(here.values()).second) continue;
      if (closed.size() * rows_.size() > most_steps) return std::nullopt;
      for (std::size_t index = 0; index < conditions.size(); ++index) {
        if (events > 0 && here.values()[conditions[index]] != 0 && !fewest[index]) fewest[index] = events;
      }
      for (const std::vector<Value>& row : rows_) {
        solver::Interpreter next = here;
        next.step(row);
        if (!allowed(next)) continue;
        if (events > 0 && is_quiet(here, next)) {
          open.emplace_front(events, std::move(next));
        } else {
          open.emplace_back(events + 1, std::move(next));
        }
      }
    }
    return fewest;
  }

 private:
  static constexpr std::size_t most_steps = 60'000;

  [[nodiscard]] bool allowed(const solver::Interpreter& state) const {
    return std::all_of(constraints_.begin(), constraints_.end(),
                       [&](NodeId node) { return state.values()[node] != 0; });
  }
  [[nodiscard]] bool is_quiet(const solver::Interpreter& here, const solver::Interpreter& next) const {
    for (NodeId id = 0; id < circuit_.nodes().size(); ++id) {
      const bool clock = circuit_.node(id).kind == dsl::NodeKind::age;
      if (!clock && here.values()[id] != next.values()[id]) return false;
    }
    return true;
  }

  const dsl::Circuit& circuit_;
  std::vector<NodeId> constraints_;
  std::vector<std::vector<Value>> rows_;
};

/// How many steps the search needs, or none within so many.
std::optional<int> steps_of_search(const Machine& machine, NodeId node, int most) {
  z3::context context;
  EventSearch search(context, machine, node, 1'000'000);
  while (search.steps() < most) {
    const EventSearch::Answer answer = search.deepen(0);
    if (answer == EventSearch::Answer::found) return search.steps() + 1;
    if (answer != EventSearch::Answer::not_yet) return std::nullopt;
  }
  return std::nullopt;
}

/// How many conditions were compared.
std::size_t compare_events(const dsl::Model& model) {
  const std::vector<NodeId> nodes = watches(model);
  const solver::Slice slice = solver::slice_for(model, nodes);
  const Machine machine = solver::machine_of(slice, model, nodes);
  std::vector<NodeId> watched;
  for (const NodeId node : nodes) watched.push_back(slice.node_of[node]);
  const auto fewest = FewestEvents(slice.circuit, machine.constraints).look(watched);
  if (!fewest) return 0;
  constexpr int most = 8;
  for (std::size_t index = 0; index < watched.size(); ++index) {
    const std::optional<int> steps = steps_of_search(machine, watched[index], most);
    const std::optional<int> expected = (*fewest)[index];
    INFO("claim " << index);
    CHECK(steps == (expected.value_or(most + 1) <= most ? expected : std::nullopt));
  }
  return watched.size();
}

void compare_runs(const dsl::Model& model, std::size_t runs, std::uint64_t seed, Tally& tally) {
  const solver::Slice slice = solver::slice_for(model, watches(model));
  const Machine machine = solver::machine_of(slice, model, watches(model));
  Chance chance(seed);
  for (std::size_t run = 0; run < runs; ++run) {
    const SkippedRun made = skipped_run(machine, slice.circuit, 8, chance);
    CHECK(made.difference.empty());
    tally.quiet += made.quiet;
    tally.ramps_moved += made.ramp_moved ? 1U : 0U;
    ++tally.runs;
  }
}

const char* const slow_winch = R"(tick 20 ms
channel stick from -100 % to 100 % step 1 % moving at most 1 % per tick
channel other from 0 to 40 step 4 moving at most 4 per tick
button  go
signal  steered = if go then 2 * stick - 10 % else 0.5 * stick
pulse   window on steered > 60 % for 700 ms
delay   settled on stick <= -90 % for 500 ms
latch   live set window and settled reset steered > 90 % and other > 20
claim   arrives: possible stick == 100 % and live
claim   waits: never live while other > 30
)";

/// Once pressed and left alone, `seen` is set at the fifth tick exactly. No run breaks the claim.
const char* const fifth_tick = R"(tick 1 ms
button go
signal fifth   = recently(go, 5 ticks) and not recently(go, 4 ticks)
signal pressed = since(true, go)
latch  seen    set fifth reset go
claim  noticed: whenever pressed and not recently(go, 8 ticks): seen
)";

/// A button, ticks since it was pressed, and two conditions about the fifth tick.
struct Window {
  dsl::Circuit circuit;
  NodeId over = dsl::no_node;   ///< pressed before, and not in the last five ticks
  NodeId early = dsl::no_node;  ///< in the last five ticks, but never pressed: impossible

  /// `cap_too_small`: the clock stops before the five ticks that it is compared with.
  explicit Window(bool cap_too_small) {
    const NodeId button = circuit.input({.name = "button", .condition = true});
    const NodeId clock = circuit.age(button, false);
    static_cast<void>(circuit.age_at_most(clock, 2));
    const NodeId recent =
        cap_too_small ? circuit.less_equal(clock, circuit.constant(5)) : circuit.age_at_most(clock, 5);
    const NodeId before = circuit.open_previous(true, 0);
    const NodeId pressed = circuit.or_(before, button);
    circuit.connect(before, pressed);
    over = circuit.and_(pressed, circuit.not_(recent));
    early = circuit.and_(recent, circuit.not_(pressed));
    if (!circuit.finish().empty()) throw std::runtime_error("a value without bound");
  }

  [[nodiscard]] dsl::Model model() const {
    dsl::Model made;
    made.circuit = circuit;
    for (const NodeId node : {over, early}) {
      made.claims.emplace_back().watch = node;
      made.claims.back().name = node == over ? "over" : "early";
    }
    return made;
  }
};

/// The whole circuit as a slice of itself, faults included (slicing would make a clock's cap what it should
/// be).
solver::Slice untouched(const dsl::Circuit& circuit) {
  solver::Slice slice{.circuit = circuit, .node_of = {}, .whole_of = {}, .inputs = {}};
  for (NodeId id = 0; id < circuit.nodes().size(); ++id) slice.node_of.push_back(id);
  slice.whole_of = slice.node_of;
  for (std::size_t input = 0; input < circuit.inputs().size(); ++input) slice.inputs.push_back(input);
  return slice;
}

solver::Memory& clock_of(Machine& machine) {
  for (solver::Memory& memory : machine.memories) {
    if (memory.clock) return memory;
  }
  throw std::runtime_error("no clock");
}

/// "Never `node`" as induction without guesses proves it on this machine, if it does.
std::optional<solver::Proof> proof_on(const Machine& machine, const solver::Slice& slice, NodeId node) {
  z3::context context;
  Induction induction(context, machine);
  for (int k = 1; k <= 2; ++k) {
    if (induction.prove(slice.node_of[node], k) == Induction::Answer::proved) {
      return solver::Proof{.never = node, .slice_of = {node}, .invariant = {}, .k = k};
    }
  }
  return std::nullopt;
}

/// Other solvers' answers to the three questions of a proof that rests on a fault.
void check_objected(const dsl::Model& honest, const solver::Proof& proof) {
  std::string missing;
  for (const std::string& solver : solvers_here(missing)) {
    const std::vector<std::string> said = answers(solver, questions_of(honest, proof));
    INFO(solver << ": " << said[0] << ' ' << said[1] << ' ' << said[2]);
    CHECK(std::count(said.begin(), said.end(), "sat") > 0);
  }
  if (!missing.empty()) WARN(missing << "it was not asked");
}

}  // namespace

TEST_CASE("Skipped steps are what the interpreter does tick by tick: random designs") {
  const Seeds range = seeds(60);
  Tally tally;
  for (std::uint64_t seed = range.first; seed < range.first + range.count; ++seed) {
    INFO("seed " << seed);
    compare_runs(compiled(random_design(seed)), 2, seed, tally);
  }
  CHECK(tally.quiet > static_cast<Value>(2 * range.count));  // else nothing was skipped, and nothing shown
  WARN(tally.runs << " runs, " << tally.quiet << " ticks skipped, in " << tally.ramps_moved
                  << " a ramp moved");
}

TEST_CASE("Skipped steps are what the interpreter does tick by tick: ramps and long times") {
  Tally tally;
  compare_runs(compiled(slow_winch), 25, 1, tally);
  CHECK(tally.quiet > 25);
  CHECK(tally.ramps_moved >= 10);
}

TEST_CASE("The search finds the fewest events: a look at all runs of random designs") {
  const Seeds range = seeds(40);
  std::size_t compared = 0;
  for (std::uint64_t seed = range.first; seed < range.first + range.count; ++seed) {
    const std::string text = random_design(seed);
    if (text.find(" moving at most ") != std::string::npos) continue;  // ramps are quiet in another way
    INFO("seed " << seed << "\n" << text);
    compared += compare_events(compiled(text));
  }
  CHECK(compared > range.count);
  WARN(compared << " conditions compared");
}

TEST_CASE("A channel that needs a hundred ticks to arrive takes few events, and every tick of it is kept") {
  const dsl::Model model = compiled(
      "tick 20 ms\nchannel stick from -100 % to 100 % step 1 % moving at most 2 % per tick\n"
      "at power_up: stick == -100 %\nclaim arrives: possible stick == 100 %\n");
  const solver::Slice slice = solver::slice_for(model, watches(model));
  const Machine machine = solver::machine_of(slice, model, watches(model));
  REQUIRE(machine.ramps.size() == 1);
  z3::context context;
  EventSearch search(context, machine, slice.node_of[model.claims[0].watch], 1'000'000);
  while (search.deepen(0) == EventSearch::Answer::not_yet && search.steps() < 10) {
  }
  CHECK(search.steps() <= 4);
  const solver::Run run = search.run(0);
  const solver::Trace trace = solver::replay(slice.circuit, run);
  CHECK(trace.ticks() >= 101);
  for (std::size_t tick = 0; tick < trace.ticks(); ++tick) {
    for (const NodeId constraint : machine.constraints) CHECK(trace.at(tick, constraint) != 0);
  }
}

TEST_CASE("A search that was stopped does not count the steps that it was stopped in") {
  // 1,000 signals in a chain: Z3 takes longer than a millisecond, and every run of one step breaks the claim.
  std::string text = "tick 20 ms\nbutton a\nbutton b\nsignal s0 = a\n";
  for (int i = 1; i < 1000; ++i) {
    const std::string before = "s" + std::to_string(i - 1);
    text += "signal s" + std::to_string(i) + " = if " + before + " then " + before + " xor b else not " + before + "\n";
  }
  const dsl::Model model = compiled(text + "claim c: always s999\n");
  const std::vector<NodeId> watch{model.claims[0].watch};
  const solver::Slice slice = solver::slice_for(model, watch);
  const Machine machine = solver::machine_of(slice, model, watch);
  z3::context context;
  EventSearch search(context, machine, slice.node_of[watch[0]], 1'000);
  REQUIRE(search.deepen(1) == EventSearch::Answer::unknown);
  CHECK(search.steps() == 0);
  CHECK(search.deepen(0) == EventSearch::Answer::found);
  CHECK(search.steps() == 0);
}

TEST_CASE("A forgotten threshold leads to wrong runs, and each is caught by the comparison") {
  // It only adds steps that the design can't do: what it spoils is runs, never proofs.
  const dsl::Model model = compiled(fifth_tick);
  const NodeId watch = model.claims[0].watch;
  CHECK(solver::check_forever(model, {}).verdicts[0].outcome == solver::Outcome::proved);
  const solver::Slice slice = solver::slice_for(model, {watch});
  Machine machine = solver::machine_of(slice, model, {watch});
  std::vector<Value>& limits = clock_of(machine).limits;
  REQUIRE(limits == std::vector<Value>{4, 5, 8});
  limits.erase(limits.begin());

  z3::context context;
  EventSearch search(context, machine, slice.node_of[watch], 1'000);
  EventSearch::Answer answer = EventSearch::Answer::not_yet;
  while (answer == EventSearch::Answer::not_yet && search.steps() < 8) answer = search.deepen(0);
  REQUIRE(answer == EventSearch::Answer::found);  // a wrong one
  CHECK_THROWS_AS(search.run(0), solver::InternalDisagreement);

  Chance chance(7);
  std::size_t noticed = 0;
  for (int run = 0; run < 30; ++run) {
    noticed += skipped_run(machine, slice.circuit, 6, chance).difference.empty() ? 0U : 1U;
  }
  CHECK(noticed > 0);
}

TEST_CASE("A clock that stops too early leads to a wrong proof, and another solver does not accept it") {
  const Window faulty(true);
  const dsl::Model wrong = faulty.model();
  const solver::Slice slice = untouched(faulty.circuit);
  const auto proof = proof_on(solver::machine_of(slice, wrong, {faulty.over}), slice, faulty.over);
  REQUIRE(proof);  // which is false:
  const Window window(false);
  REQUIRE(window.over == faulty.over);
  const dsl::Model honest = window.model();
  const solver::Verdict verdict = solver::check_bounded(honest, {.within = 10, .claims = {0}}).verdicts[0];
  REQUIRE(verdict.outcome == solver::Outcome::refuted);
  CHECK(verdict.run->ticks() == 7);  // pressed in tick 0, six ticks ago in tick 6
  check_objected(honest, *proof);
}

TEST_CASE("A clock that stops too early leads to a wrong run, and the whole circuit does not confirm it") {
  const Window faulty(true);
  const dsl::Model wrong = faulty.model();
  const solver::Slice slice = untouched(faulty.circuit);
  const Machine machine = solver::machine_of(slice, wrong, {faulty.early});
  z3::context context;
  EventSearch search(context, machine, slice.node_of[faulty.early], 1'000);
  REQUIRE(search.deepen(0) == EventSearch::Answer::found);
  const Window window(false);
  const solver::Run run = solver::widen(search.run(0), slice, window.circuit);
  const solver::Trace trace = solver::replay(window.circuit, run);
  CHECK(trace.at(trace.ticks() - 1, window.early) == 0);
  CHECK(solver::check_forever(window.model(), {.claims = {1}}).verdicts[0].outcome ==
        solver::Outcome::proved);
}

TEST_CASE("A clock that is believed never to reach its threshold proves too much, and is objected to") {
  const Window window(false);
  const dsl::Model honest = window.model();
  const solver::Slice slice = solver::slice_for(honest, {window.over});
  Machine machine = solver::machine_of(slice, honest, {window.over});
  CHECK_FALSE(proof_on(machine, slice, window.over));
  clock_of(machine).range.high = 4;
  const auto proof = proof_on(machine, slice, window.over);
  REQUIRE(proof);
  check_objected(honest, *proof);
}
