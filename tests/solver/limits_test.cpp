// Time, memory and a hand that says stop: each ends a check soon, and what was known stays known.
#include "solver/limits.hpp"

#include <atomic>
#include <chrono>
#include <thread>

#include "solver/bounded.hpp"
#include "solver/satisfiability.hpp"
#include "tests/support/catch.hpp"

using namespace detent;
using dsl::Model;
using dsl::NodeId;
using solver::Limit;
using solver::Outcome;
using std::chrono::milliseconds;

namespace {

/// So many pigeons, each in one of too few holes, no two in one: impossible, and known to be out of reach for
/// solvers of this kind (Haken, "The intractability of resolution", TCS 39, 1985).
NodeId pigeons(dsl::Circuit& circuit, std::size_t holes) {
  std::vector<std::vector<NodeId>> sits(holes + 1);
  NodeId all = circuit.truth(true);
  for (auto& pigeon : sits) {
    NodeId somewhere = circuit.truth(false);
    for (std::size_t hole = 0; hole < holes; ++hole) {
      pigeon.push_back(circuit.input({.name = "sits", .condition = true}));
      somewhere = circuit.or_(somewhere, pigeon.back());
    }
    all = circuit.and_(all, somewhere);
  }
  for (std::size_t hole = 0; hole < holes; ++hole) {
    for (std::size_t one = 0; one < sits.size(); ++one) {
      for (std::size_t other = 0; other < one; ++other) {
        all = circuit.and_(all, circuit.not_(circuit.and_(sits[one][hole], sits[other][hole])));
      }
    }
  }
  return all;
}

/// The claims: an easy one that holds, the hard one, and an easy one that does not hold at tick 3.
Model hard_model() {
  Model model;
  dsl::Circuit& circuit = model.circuit;
  const NodeId a = circuit.input({.name = "a", .condition = true});
  const NodeId late = circuit.not_(circuit.age_at_most(circuit.age(circuit.first_tick(), false), 2));
  const NodeId twice =
      circuit.and_(a, circuit.equal(circuit.previous(a, 0), circuit.not_(circuit.previous(a, 0))));
  for (const NodeId watch : {twice, pigeons(circuit, 11), circuit.and_(a, late)}) {
    model.claims.emplace_back().watch = watch;
  }
  REQUIRE(circuit.finish().empty());
  return model;
}

void check_easy_ones(const solver::Report& report) {
  CHECK(report.verdicts[0].outcome == Outcome::holds_up_to);
  CHECK(report.verdicts[0].ticks == 6);
  CHECK(report.verdicts[2].outcome == Outcome::refuted);
  CHECK(report.verdicts[2].run->ticks() == 4);
}

double seconds_since(std::chrono::steady_clock::time_point start) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

}  // namespace

TEST_CASE("time runs out: the hard claim is undecided, the others are answered") {
  const Model model = hard_model();
  solver::BoundedOptions options;
  options.within = 6;
  options.timeout = milliseconds(12'000);  // for the easy ones, on a busy machine
  const auto start = std::chrono::steady_clock::now();
  const solver::Report report = solver::check_bounded(model, options);
  CHECK(seconds_since(start) < 15);
  CHECK(report.verdicts[1].outcome == Outcome::undecided);
  CHECK(report.verdicts[1].limit == Limit::time);
  CHECK(report.verdicts[1].ticks == 0);
  check_easy_ones(report);
}

TEST_CASE("no time at all decides nothing") {
  const Model model = hard_model();
  solver::BoundedOptions options;
  options.within = 6;
  options.timeout = milliseconds(0);
  for (const solver::Verdict& verdict : solver::check_bounded(model, options).verdicts) {
    CHECK(verdict.outcome == Outcome::undecided);
    CHECK(verdict.limit == Limit::time);
    CHECK(verdict.ticks == 0);
  }
}

TEST_CASE("a hand that says stop is heard during a hard question") {
  const Model model = hard_model();
  std::atomic<bool> stop = false;
  solver::BoundedOptions options;
  options.within = 6;
  options.claims = {1};
  options.cancel = &stop;
  std::chrono::steady_clock::time_point stopped;
  std::jthread hand([&] {
    std::this_thread::sleep_for(milliseconds(1500));
    stopped = std::chrono::steady_clock::now();
    stop = true;
  });
  const solver::Report report = solver::check_bounded(model, options);
  hand.join();
  CHECK(seconds_since(stopped) < 2);  // tens of milliseconds where the machine is idle
  CHECK(report.verdicts[0].outcome == Outcome::undecided);
  CHECK(report.verdicts[0].limit == Limit::interrupted);
}

TEST_CASE("memory runs out: what is known so far stays, and a later check is not disturbed") {
  Model model;
  dsl::Circuit& circuit = model.circuit;
  // A window of 500 ticks opens on a press outside a window; it never opens twice in 500 ticks.
  const NodeId button = circuit.input({.name = "button", .condition = true});
  const NodeId press = circuit.and_(button, circuit.not_(circuit.previous(button, 0)));
  const NodeId was_open = circuit.open_previous(true, 0);
  const NodeId clock = circuit.age(circuit.and_(press, circuit.not_(was_open)), false);
  circuit.connect(was_open, circuit.age_at_most(clock, 498));
  const NodeId open = circuit.age_at_most(clock, 499);
  const NodeId opens = circuit.and_(open, circuit.not_(circuit.previous(open, 0)));
  const NodeId opened = circuit.age_at_most(circuit.age(opens, false), 498);
  model.claims.emplace_back().watch = circuit.and_(opens, circuit.previous(opened, 0));
  REQUIRE(circuit.finish().empty());
  solver::BoundedOptions options;
  options.within = 200'000;
  options.memory_mib = solver::solver_memory_bytes() / 1024 / 1024 + 24;
  options.timeout = milliseconds(120'000);
  const solver::Report report = solver::check_bounded(model, options);
  CHECK(report.verdicts[0].outcome == Outcome::undecided);
  CHECK(report.verdicts[0].limit == Limit::memory);
  CHECK(report.verdicts[0].ticks > 10);
  CHECK(report.verdicts[0].ticks < 200'000);

  solver::BoundedOptions later;
  later.within = 50;
  CHECK(solver::check_bounded(model, later).verdicts[0].outcome == Outcome::holds_up_to);
}

TEST_CASE("progress is told from the calling thread, up to the last tick") {
  Model model;
  const NodeId a = model.circuit.input({.name = "a", .condition = true});
  model.claims.emplace_back().watch = model.circuit.and_(
      a, model.circuit.equal(model.circuit.previous(a, 0), model.circuit.not_(model.circuit.previous(a, 0))));
  REQUIRE(model.circuit.finish().empty());
  solver::BoundedOptions options;
  options.within = 30;
  std::vector<solver::Progress> told;
  bool same_thread = true;
  options.progress = [&, here = std::this_thread::get_id()](const solver::Progress& progress) {
    same_thread = same_thread && std::this_thread::get_id() == here;
    told.push_back(progress);
  };
  static_cast<void>(solver::check_bounded(model, options));
  REQUIRE_FALSE(told.empty());
  CHECK(same_thread);
  CHECK(told.front().ticks_done == 0);
  CHECK(told.back().ticks_done <= 30);
  CHECK(told.front().ticks_asked == 30);
  CHECK(told.front().claims_open == 1);
}
