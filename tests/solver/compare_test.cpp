// Two designs side by side: what is the same is proved so, what differs is found in the right direction, and
// every run is played again here on each design alone. What is right follows from the definitions in
// dsl/README.md; the designs and their differences are our own, no outside source.
#include "solver/compare.hpp"

#include <fmt/format.h>

#include <atomic>
#include <string>
#include <variant>

#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"

using namespace detent;
using namespace detent::test;

namespace {

using dsl::Model;
using dsl::Parting;
using dsl::side_a;
using dsl::side_b;
using dsl::Value;
using solver::Comparison;
using solver::Outcome;

struct Pair {
  Model a, b;
  dsl::SideBySide both;
  Comparison answer;
};

Pair compared(const std::string& a, const std::string& b, const dsl::Renames& renames = {},
              const solver::CompareOptions& options = {}) {
  Pair pair{.a = compiled(a), .b = compiled(b), .both = {}, .answer = {}};
  const auto match = dsl::match_signals(pair.a, pair.b, renames);
  REQUIRE(std::holds_alternative<dsl::Match>(match));
  pair.both = dsl::put_side_by_side(pair.a, pair.b, std::get<dsl::Match>(match));
  solver::CompareQuestions questions;
  for (std::uint32_t claim = 0; claim < pair.a.claims.size() && claim < pair.b.claims.size(); ++claim) {
    questions.claims.push_back({{claim, claim}});
  }
  pair.answer = solver::compare(pair.a, pair.b, pair.both, questions, options);
  return pair;
}

const solver::SignalAnswer& answer_for(const Pair& pair, const std::string& name) {
  for (const solver::SignalAnswer& answer : pair.answer.signals) {
    if (pair.a.signals[pair.both.compared[answer.compared].pair.a].name == name) return answer;
  }
  throw std::runtime_error("no such signal: " + name);
}

Outcome outcome_of(const Pair& pair, const std::string& name, Parting parting) {
  for (const solver::PartingAnswer& one : answer_for(pair, name).partings) {
    if (one.parting == parting) return one.verdict.outcome;
  }
  throw std::runtime_error("no such parting");
}

/// The value that a design alone gives the signal in the last tick of a run of both.
Value at_end(const Pair& pair, std::size_t side, const std::string& name, const solver::Run& run) {
  const Model& model = side == side_a ? pair.a : pair.b;
  const solver::Run own = solver::run_of_side(model, pair.both, side, run);
  CHECK(solver::is_well_formed(model.circuit, own));
  const solver::Trace trace = solver::replay(model.circuit, own);
  return trace.at(trace.ticks() - 1, signal_named(model, name).node);
}

/// The signal parts in this way only; its run does so on the two designs alone.
void parts_only(const Pair& pair, const std::string& name, Parting parting) {
  for (const solver::PartingAnswer& one : answer_for(pair, name).partings) {
    if (one.parting != parting) {
      CHECK(one.verdict.outcome == Outcome::refuted);
      CHECK(one.verdict.proof.has_value());
      continue;
    }
    REQUIRE(one.verdict.outcome == Outcome::shown);
    const Value a = at_end(pair, side_a, name, *one.verdict.run);
    const Value b = at_end(pair, side_b, name, *one.verdict.run);
    CHECK((parting == Parting::a_above ? a > b : b > a));
  }
}

/// A latch behind a window, with holes for what the tests change.
struct Design {
  std::string set = "window and key";
  std::string reset = "stop";
  std::string window = "pulse window on nudge for 400 ms";
  std::string more = "";
  [[nodiscard]] std::string text() const {
    return fmt::format(
        "tick 20 ms\nbutton nudge\nbutton key\nbutton stop\n{}\nlatch live set {} reset {}\n"
        "output jet = 100 % when live else 0 %\n{}\nclaim off: whenever stop: not live\n",
        window, set, reset, more);
  }
};

}  // namespace

TEST_CASE("a design is the same as itself, by its build alone") {
  const Pair pair = compared(Design{}.text(), Design{}.text());
  REQUIRE(pair.answer.signals.size() == 3);
  for (const solver::SignalAnswer& answer : pair.answer.signals) CHECK(answer.same());
  // Nothing is there twice: the latch, the pulse and everything behind them are the same nodes.
  for (const dsl::Compared& one : pair.both.compared) {
    for (const auto& way : one.ways) CHECK(pair.both.model.circuit.is_constant(way.node));
  }
}

TEST_CASE("conditions in another order are proved the same") {
  const Pair two = compared(Design{}.text(), Design{.set = "key and window"}.text());
  for (const solver::SignalAnswer& answer : two.answer.signals) CHECK(answer.same());
  // Of three, the nodes are others: this takes the engines.
  const Pair three = compared(Design{.set = "window and key and not stop"}.text(),
                              Design{.set = "not stop and key and window"}.text());
  for (const solver::SignalAnswer& answer : three.answer.signals) {
    CHECK(answer.same());
    for (const solver::PartingAnswer& one : answer.partings) CHECK(one.verdict.proof.has_value());
  }
}

TEST_CASE("which side of a latch wins is found, in the right direction") {
  const Pair pair = compared(Design{}.text(), Design{.reset = "stop set wins"}.text());
  parts_only(pair, "live", Parting::b_above);
  parts_only(pair, "jet", Parting::b_above);
  CHECK(answer_for(pair, "window").same());
  REQUIRE(pair.answer.claims.size() == 1);
  CHECK(pair.answer.claims[0][side_a]->outcome == Outcome::proved);
  CHECK(pair.answer.claims[0][side_b]->outcome == Outcome::refuted);
  // Turned round, it is the other way.
  parts_only(compared(Design{.reset = "stop set wins"}.text(), Design{}.text()), "live", Parting::a_above);
}

TEST_CASE("a window that starts again is found, after it would have run out") {
  const Pair pair =
      compared(Design{}.text(), Design{.window = "pulse window on nudge for 400 ms restarting"}.text());
  parts_only(pair, "window", Parting::b_above);
  for (const solver::PartingAnswer& one : answer_for(pair, "window").partings) {
    // 20 ticks of the first push are over at tick 20 at the earliest.
    if (one.verdict.run) CHECK(one.verdict.run->ticks() == 21);
  }
}

TEST_CASE("a delay that is one tick longer is found") {
  const std::string more = "delay settled on key for {}\nclaim unused: whenever settled: key\n";
  const Pair pair = compared(Design{.more = fmt::format(fmt::runtime(more), "500 ms")}.text(),
                             Design{.more = fmt::format(fmt::runtime(more), "520 ms")}.text());
  parts_only(pair, "settled", Parting::a_above);
  CHECK(answer_for(pair, "live").same());
}

TEST_CASE("levels, positions and names that differ") {
  const std::string a =
      "tick 20 ms\nchannel thrust from -100 % to 100 % step 1 %\nswitch guard is safe | run\n"
      "signal limited = min(thrust, 50 %)\n"
      "stages mode is off_mode | on_mode\n  off_mode -> on_mode when guard is run\n"
      "  on_mode -> off_mode when guard is safe\n"
      "claim c: always limited <= 50 %\nclaim d: possible mode is on_mode\n";
  const std::string b =
      "tick 20 ms\nswitch lock is run | safe\nchannel push from -100 % to 100 % step 1 %\n"
      "signal limited = min(push, 50.5 %)\n"
      "stages mode is on_mode | off_mode\n  off_mode -> on_mode when lock is run{}\n"
      "  on_mode -> off_mode when lock is safe\n"
      "claim c: always limited <= 50.5 %\nclaim d: possible mode is on_mode\n";
  const dsl::Renames renames{{"thrust", "push"}, {"guard", "lock"}};
  const Pair alike = compared(a, fmt::format(fmt::runtime(b), ""), renames);
  CHECK(alike.both.match.hands.size() == 2);
  CHECK(outcome_of(alike, "limited", Parting::a_above) == Outcome::refuted);
  CHECK(outcome_of(alike, "limited", Parting::b_above) == Outcome::shown);
  // Other numbers for the same positions, in switch and stages, and another first stage that is left at once.
  CHECK(answer_for(alike, "mode").same());
  const Pair apart = compared(a, fmt::format(fmt::runtime(b), " and push > 0 %"), renames);
  REQUIRE(outcome_of(apart, "mode", Parting::differ) == Outcome::shown);
  const solver::Run& run = *answer_for(apart, "mode").partings.front().verdict.run;
  CHECK(at_end(apart, side_a, "mode", run) == 1);
  CHECK(at_end(apart, side_b, "mode", run) == 1);  // on_mode in A, off_mode in B
}

TEST_CASE("an input that only one design has moves freely") {
  const Pair pair =
      compared(Design{}.text(), Design{.reset = "stop or extra", .more = "button extra"}.text());
  REQUIRE(pair.both.match.alone[side_b].size() == 1);
  CHECK(pair.both.match.alone[side_a].empty());
  parts_only(pair, "live", Parting::a_above);
}

TEST_CASE("the assumptions of both hold together") {
  const std::string never_stop = "assume a: never stop\n";
  const Pair apart =
      compared(Design{.reset = "stop"}.text(), Design{.reset = "stop or nudge and stop"}.text());
  CHECK(answer_for(apart, "live").same());
  const Pair free = compared(Design{}.text(), Design{.reset = "false and stop"}.text());
  CHECK_FALSE(answer_for(free, "live").same());
  const Pair held = compared(Design{.more = never_stop}.text(), Design{.reset = "false and stop"}.text());
  CHECK(answer_for(held, "live").same());
  // Claims are asked of each design under its own assumptions.
  CHECK(held.answer.claims[0][side_b]->outcome == Outcome::refuted);
  CHECK(held.answer.claims[0][side_a]->outcome == Outcome::proved);
}

TEST_CASE("assumptions that contradict each other are no verdict") {
  const Pair pair = compared(Design{.more = "assume a: always stop"}.text(),
                             Design{.reset = "nudge", .more = "assume b: never stop"}.text());
  REQUIRE(pair.answer.contradiction);
  CHECK_FALSE(pair.answer.contradiction->side);
  CHECK(pair.answer.contradiction->ticks == 1);
  const Pair alone = compared(Design{.more = "assume a: always stop\nassume b: never stop"}.text(),
                              Design{.reset = "nudge"}.text());
  REQUIRE(alone.answer.contradiction);
  CHECK(alone.answer.contradiction->side == side_a);
}

TEST_CASE("what can't be compared is said, with the mend") {
  const auto problem = [](const std::string& a, const std::string& b, const dsl::Renames& renames = {}) {
    const auto match = dsl::match_signals(compiled(a), compiled(b), renames);
    const auto* found = std::get_if<dsl::MatchProblem>(&match);
    if (found == nullptr) return std::string();
    CHECK_FALSE(found->mend.empty());
    return found->message;
  };
  const std::string end = "claim c: never x\n";
  const std::string plain = "tick 20 ms\nbutton x\n" + end;
  CHECK(problem(plain, "tick 10 ms\nbutton x\n" + end) == "a tick is 20 ms in A and 10 ms in B");
  CHECK(problem(plain, "tick 20 ms\nswitch x is up | down\nclaim c: never x is up\n") ==
        "'x' is a button in A and a switch in B");
  const std::string level =
      "tick 20 ms\nchannel x from 0 {2} to {0} {2} step {1} {2}\nclaim c: never x == 0 {2}\n";
  const auto with = [&](int high, int step, const char* unit) {
    return fmt::format(fmt::runtime(level), high, step, unit);
  };
  CHECK(problem(with(100, 1, "%"), with(50, 1, "%")) ==
        "'x' goes from 0 % to 100 % step 1 % in A and from 0 % to 50 % step 1 % in B");
  CHECK(problem(with(100, 1, "%"), with(100, 2, "%")).find("step 2 %") != std::string::npos);
  CHECK(problem(with(100, 1, "%"), with(100, 1, "us")).find("a level in us") != std::string::npos);
  CHECK(problem(plain, plain, {{"x", "y"}}) == "no input or element of B is called 'y'");
  CHECK(problem(plain, plain, {{"x", "x"}, {"x", "x"}}).find("another --match") != std::string::npos);
  CHECK(problem(plain, plain, {{"x", "x"}}).empty());
}

TEST_CASE("a comparison that is stopped tells what it knows") {
  const std::atomic<bool> stop = true;
  const Pair pair = compared(Design{}.text(), Design{.reset = "stop set wins"}.text(), {}, {.cancel = &stop});
  CHECK(outcome_of(pair, "live", Parting::b_above) == Outcome::undecided);
  const auto& verdict = answer_for(pair, "live").partings.back().verdict;
  CHECK(verdict.limit == solver::Limit::interrupted);
}
