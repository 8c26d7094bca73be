// One claim at many values as one machine: what is found of it is compared with each value checked by itself.
#include "solver/family.hpp"

#include <algorithm>
#include <optional>
#include <set>

#include "dsl/tunables.hpp"
#include "solver/family_proof.hpp"
#include "solver/family_search.hpp"
#include "solver/forever.hpp"
#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/tuned.hpp"

using namespace detent;
using namespace detent::test;
using namespace detent::solver;

namespace {

/// A window that must be shut again: a pulse of n ticks is on up to n - 1 ticks after the rise, so up to 6
/// ticks do.
const char* const window = R"(tick 20 ms
tunable patience = 3 ticks from 1 tick to 12 ticks
button go
pulse open on rises(go) for patience
claim shut: open only within 5 ticks after rises(go)
)";

struct Values {
  dsl::Compiled compiled;
  std::vector<dsl::Model> models = {};
  std::vector<Shape> shapes = {};
  std::vector<Member> members = {};
};

Values values_of(const std::string& text) {
  Values all{.compiled = dsl::compile_text("test.detent", text)};
  REQUIRE(all.compiled.model);
  const auto found = dsl::tunables(all.compiled.tree, all.compiled.model->tick_us);
  for (dsl::Value value = found[0].low; value <= found[0].high; ++value) {
    auto tried = dsl::with_values(all.compiled.tree, all.compiled.sources, {{&found[0], value}});
    REQUIRE(tried.model);
    all.models.push_back(std::move(*tried.model));
    all.shapes.push_back(shape_of(all.models.back(), 0));
  }
  for (std::size_t point = 0; point < all.models.size(); ++point) {
    all.members.push_back({point, 0, static_cast<Value>(point), &all.shapes[point]});
  }
  return all;
}

bool is_proved(const dsl::Model& model) {
  const Report report = check_forever(model, {.claims = {0}, .side_findings = false});
  REQUIRE(report.verdicts.front().outcome != Outcome::undecided);
  return report.verdicts.front().outcome == Outcome::proved;
}

std::vector<Member> only(const std::vector<Member>& members,
                         const std::function<bool(const Member&)>& wanted) {
  std::vector<Member> some;
  std::copy_if(members.begin(), members.end(), std::back_inserter(some), wanted);
  return some;
}

/// The family whose first member is this one.
std::vector<Member> from(const Values& all, std::size_t point) {
  std::vector<Member> members{all.members[point]};
  for (const Member& one : all.members) {
    if (one.point != point) members.push_back(one);
  }
  return members;
}

}  // namespace

TEST_CASE("Values that differ in numbers alone are one family, whose numbers grow evenly") {
  const Values all = values_of(window);
  const Family family(all.models[3], 0, from(all, 3));
  CHECK(family.members().size() >= 8);  // some numbers meet others, which makes another circuit
  CHECK(family.members().front().point == 3);
  CHECK_FALSE(family.unknown().empty());
  for (const auto& [standing_for, number] : family.unknown()) {
    CHECK(number.per_row == 0);
    CHECK(number.per_column != 0);
  }
}

TEST_CASE(
    "Runs found with the value as an unknown break the claim at the value that they name, and find all that "
    "fail") {
  const Values all = values_of(window);
  const Family family(all.models[3], 0, from(all, 3));
  const Limits limits({}, {}, nullptr);
  std::set<std::size_t> broken;
  search_family(family, family.members(), 10, limits, [&](const FamilyRun& found) {
    const auto point = static_cast<std::size_t>(found.column);
    const dsl::Model& model = all.models[point];
    REQUIRE(is_well_formed(model.circuit, found.run));
    const Trace trace = replay(model.circuit, found.run);
    CHECK(trace.at(trace.ticks() - 1, model.claims[0].watch) != 0);
    CHECK(broken.insert(point).second);
    return only(family.members(), [&](const Member& one) { return one.point == point; });
  });
  for (const Member& one : family.members()) {
    INFO("patience of " << one.point + 1 << " ticks");
    CHECK(broken.contains(one.point) == !is_proved(all.models[one.point]));
  }
  CHECK_FALSE(broken.empty());
}

TEST_CASE("A proof for many values holds for just those at which each is proved by itself") {
  const Values all = values_of(window);
  const std::size_t start = 3;
  const Family family(all.models[start], 0, from(all, start));
  const Report report = check_forever(all.models[start], {.claims = {0}, .side_findings = false});
  REQUIRE(report.verdicts.front().proof);
  const Proof& proof = *report.verdicts.front().proof;
  const std::vector<EvenClause> guesses = said_evenly(family, all.models[start], proof);
  const Limits limits({}, {}, nullptr);
  const auto good =
      only(family.members(), [&](const Member& one) { return is_proved(all.models[one.point]); });
  REQUIRE(good.size() >= 3);
  REQUIRE(good.size() < family.members().size());
  CHECK(prove_family(family, good, guesses, proof.k, limits));
  // With a single value among them at which the claim is broken there must be no proof.
  for (const Member& bad : family.members()) {
    if (is_proved(all.models[bad.point])) continue;
    std::vector<Member> with = good;
    with.push_back(bad);
    CHECK_FALSE(prove_family(family, with, guesses, proof.k, limits));
  }
  // Stopped before it began, it has proved nothing.
  const std::atomic<bool> stop{true};
  CHECK_FALSE(prove_family(family, good, guesses, proof.k, Limits({}, {}, &stop)));
}

TEST_CASE("Values between which others fail are not proved by what lies around them") {
  // A lamp that is lit while the count is at the tunable or at 6: two apart, so 6 and its neighbours differ.
  const Tuned found = tuned(R"(tick 20 ms
tunable spot = 2 from 0 to 12
button go
counter n up go from 0 to 12
signal lit = n == spot
claim dark: never lit and (n == 4 or n == 5 or n == 9)
claim lights: possible lit
)",
                            {"spot"});
  CHECK(letters_of(found.study) == "++++--+++-+++");
}

// A pulse of n ticks is on up to n - 1 ticks after the rise: 46 ticks are within 45 (worked out by hand).
TEST_CASE("Tuning a range is decided by few proofs") {
  const Tuned found = tuned(R"(tick 20 ms
tunable patience = 8 ticks from 1 tick to 60 ticks
button go
pulse open on rises(go) for patience
claim shut: open only within 45 ticks after rises(go)
)",
                            {"patience"});
  CHECK(letters_of(found.study) == std::string(46, '+') + std::string(14, '-'));
  CHECK(found.study.report.statistics.together >= 30);
  std::size_t widest = 0;
  for (const PointFinding& one : found.study.report.points) widest = std::max(widest, one.together);
  CHECK(widest >= 30);
}
