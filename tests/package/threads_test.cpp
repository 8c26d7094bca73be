// Designs checked at the same time come to what they come to one after another.
#include <array>
#include <exception>
#include <string>
#include <thread>
#include <vector>

#include "solver/bounded.hpp"
#include "solver/forever.hpp"
#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

namespace detent::test {
namespace {

using solver::Outcome;
using solver::Verdict;

const std::array<std::string, 2> names{"boat/flaw_window_kept_alive.detent",
                                       "winch/flaw_starts_with_the_power.detent"};

struct Answer {
  dsl::Model model;
  std::vector<Verdict> forever, bounded;
};

/// From the text on, so that the whole library is at work.
Answer answer(const std::string& name) {
  dsl::Model model = shipped_model(name);
  std::vector<Verdict> forever = solver::check_forever(model, {.jobs = 2}).verdicts;
  std::vector<Verdict> bounded = solver::check_bounded(model, {.within = 80}).verdicts;
  return {std::move(model), std::move(forever), std::move(bounded)};
}

bool ends_it(const dsl::Model& model, const Verdict& verdict) {
  const solver::Trace trace = solver::replay(model.circuit, *verdict.run);
  return trace.at(trace.ticks() - 1, model.claims[verdict.claim].watch) == 1;
}

void compare(const Answer& model, const std::vector<Verdict>& one, const std::vector<Verdict>& other) {
  REQUIRE(one.size() == other.size());
  for (std::size_t claim = 0; claim < one.size(); ++claim) {
    CHECK(one[claim].outcome != Outcome::undecided);
    CHECK(one[claim].outcome == other[claim].outcome);
    CHECK(one[claim].ticks == other[claim].ticks);
    CHECK(one[claim].vacuous == other[claim].vacuous);
    REQUIRE(one[claim].run.has_value() == other[claim].run.has_value());
    if (one[claim].run) CHECK(ends_it(model.model, one[claim]));
  }
}

}  // namespace

TEST_CASE("two designs at once, in two threads, as one after another") {
  std::array<Answer, 2> alone, together;
  for (std::size_t side = 0; side < 2; ++side) alone[side] = answer(names[side]);
  std::array<std::exception_ptr, 2> failures;
  {
    std::vector<std::jthread> threads;
    for (std::size_t side = 0; side < 2; ++side) {
      threads.emplace_back([&, side] {
        try {
          for (int round = 0; round < 2; ++round) together[side] = answer(names[side]);
        } catch (...) {
          failures[side] = std::current_exception();
        }
      });
    }
  }
  for (const std::exception_ptr& failure : failures) {
    if (failure) std::rethrow_exception(failure);
  }
  for (std::size_t side = 0; side < 2; ++side) {
    INFO(names[side]);
    compare(alone[side], together[side].forever, alone[side].forever);
    compare(alone[side], together[side].bounded, alone[side].bounded);
  }
}

TEST_CASE("one model, read by two checks at once") {
  const dsl::Model model = shipped_model(names[0]);
  std::array<std::vector<Verdict>, 2> said;
  {
    std::vector<std::jthread> threads;
    for (auto& verdicts : said) {
      threads.emplace_back(
          [&] { verdicts = solver::check_forever(model, {.side_findings = false}).verdicts; });
    }
  }
  REQUIRE(said[0].size() == model.claims.size());
  REQUIRE(said[1].size() == model.claims.size());
  for (std::size_t claim = 0; claim < said[0].size(); ++claim) {
    CHECK(said[0][claim].outcome == said[1][claim].outcome);
    CHECK(said[0][claim].outcome != Outcome::undecided);
  }
}

}  // namespace detent::test
