// Gates, numbers of gates and sliding windows against plain arithmetic, over all values or many random ones.
#include "solver/gates.hpp"

#include <algorithm>

#include "solver/binary.hpp"
#include "solver/sliding_or.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chance.hpp"

using namespace detent::solver;
using detent::test::Chance;

namespace {

/// A formula over three variables, as gates and as its truth table (bit v: its value under the variables v).
struct Formula {
  Literal gate;
  unsigned table = 0;
};

constexpr unsigned whole_table = 0xFF;

Formula opposite(const Formula& a) {
  return {!a.gate, ~a.table & whole_table};
}

Formula random_formula(Gates& gates, const std::vector<Formula>& known, Chance& chance) {
  const auto pick = [&] {
    const Formula& formula = chance.pick(known);
    return chance.one_in(2) ? opposite(formula) : formula;
  };
  const Formula a = pick();
  const Formula b = pick();
  const Formula c = pick();
  switch (chance.below(4)) {
    case 0:
      return {gates.both(a.gate, b.gate), a.table & b.table};
    case 1:
      return {gates.either(a.gate, b.gate), a.table | b.table};
    case 2:
      return {gates.same(a.gate, b.gate), ~(a.table ^ b.table) & whole_table};
    default:
      return {gates.choose(a.gate, b.gate, c.gate), (a.table & b.table) | (~a.table & c.table & whole_table)};
  }
}

bool table_value(unsigned table, unsigned variables) {
  return ((table >> variables) & 1U) != 0;
}

std::vector<bool> bits_of(unsigned number, std::size_t count) {
  std::vector<bool> bits;
  for (std::size_t place = 0; place < count; ++place) bits.push_back(((number >> place) & 1U) != 0);
  return bits;
}

Bits variables(Gates& gates, std::size_t count) {
  Bits bits(count);
  for (Literal& bit : bits) bit = gates.variable();
  return bits;
}

std::uint64_t number_of(const Bits& bits, const std::vector<bool>& values) {
  std::uint64_t number = 0;
  for (std::size_t place = 0; place < bits.size(); ++place) {
    if (value_of(bits[place], values)) number |= std::uint64_t{1} << place;
  }
  return number;
}

}  // namespace

TEST_CASE("a gate is simplified only to what it equals under all values") {
  for (std::uint64_t seed = 0; seed < 400; ++seed) {
    Chance chance(seed);
    Gates gates;
    std::vector<Formula> known{{always_false, 0},
                               {gates.variable(), 0b10101010},
                               {gates.variable(), 0b11001100},
                               {gates.variable(), 0b11110000}};
    for (int count = 0; count < 40; ++count) known.push_back(random_formula(gates, known, chance));
    for (unsigned assignment = 0; assignment < 8; ++assignment) {
      const std::vector<bool> values = evaluate(gates, bits_of(assignment, 3));
      for (const Formula& formula : known) {
        REQUIRE(value_of(formula.gate, values) == table_value(formula.table, assignment));
      }
    }
  }
}

TEST_CASE("simplifications that the encoding counts on") {
  Gates gates;
  const Literal a = gates.variable();
  const Literal b = gates.variable();
  const Literal c = gates.variable();
  CHECK(gates.both(a, !a) == always_false);
  CHECK(gates.both(gates.both(a, b), !b) == always_false);
  CHECK(gates.both(gates.both(a, b), gates.both(!a, c)) == always_false);
  CHECK(gates.both(gates.both(a, b), a) == gates.both(a, b));
  CHECK(gates.both(a, gates.either(!a, b)) == gates.both(a, b));
  CHECK(gates.either(a, gates.both(a, b)) == a);
  CHECK(gates.same(a, !b) == !gates.same(a, b));
  CHECK(gates.choose(!a, b, c) == gates.choose(a, c, b));
  CHECK(gates.choose(a, b, always_false) == gates.both(a, b));
  // near misses stay what they are
  CHECK(gates.both(a, b) != a);
  CHECK(gates.both(a, gates.either(b, c)).gate() > gates.either(b, c).gate());
  CHECK_FALSE(is_constant(gates.both(gates.both(a, b), !c)));
}

TEST_CASE("sums, products, choices and comparisons of all small numbers") {
  for (const std::size_t width : {1U, 3U, 4U}) {
    Gates gates;
    const Bits a = variables(gates, 3);
    const Bits b = variables(gates, 3);
    const Bits added = sum(gates, a, b, width);
    const Bits multiplied = product(gates, 5, a, width);
    const Bits negated = product(gates, static_cast<std::uint64_t>(-1), a, width);
    const Literal a_at_most_b = at_most_bits(gates, a, b);
    const Literal a_equals_b = equal_bits(gates, a, b);
    const Bits lower = choice(gates, a_at_most_b, a, b);
    const std::uint64_t mask = (std::uint64_t{1} << width) - 1;
    for (unsigned x = 0; x < 8; ++x) {
      for (unsigned y = 0; y < 8; ++y) {
        const std::vector<bool> values = evaluate(gates, bits_of(x + 8 * y, 6));
        REQUIRE(number_of(added, values) == ((x + y) & mask));
        REQUIRE(number_of(multiplied, values) == ((5 * x) & mask));
        REQUIRE(number_of(negated, values) == ((std::uint64_t{0} - x) & mask));
        REQUIRE(value_of(a_at_most_b, values) == (x <= y));
        REQUIRE(value_of(a_equals_b, values) == (x == y));
        REQUIRE(number_of(lower, values) == std::min(x, y));
      }
    }
  }
}

TEST_CASE("numbers of different widths are compared in full") {
  Gates gates;
  const Bits wide = constant_bits(9, 4);
  const Bits narrow = constant_bits(1, 1);
  CHECK(at_most_bits(gates, narrow, wide) == always_true);
  CHECK(at_most_bits(gates, wide, narrow) == always_false);
  CHECK(equal_bits(gates, wide, narrow) == always_false);
  CHECK(width_of(0) == 0);
  CHECK(width_of(1) == 1);
  CHECK(width_of(255) == 8);
  CHECK(width_of(256) == 9);
}

TEST_CASE("a sliding window says whether the condition was true at one of its ticks") {
  Chance chance(1);
  for (const detent::dsl::Value limit : {0, 1, 2, 3, 5, 7, 40}) {
    for (const bool just_before_start : {false, true}) {
      constexpr std::size_t ticks = 40;
      Gates gates;
      SlidingOr window(limit, just_before_start);
      const Bits condition = variables(gates, ticks);
      std::vector<Literal> answers;
      for (const Literal now : condition) answers.push_back(window.next(gates, now));
      for (int run = 0; run < 50; ++run) {
        std::vector<bool> was_true;
        for (std::size_t tick = 0; tick < ticks; ++tick) was_true.push_back(chance.one_in(6));
        const std::vector<bool> values = evaluate(gates, was_true);
        detent::dsl::Value age = just_before_start ? 0 : 1000;
        for (std::size_t tick = 0; tick < ticks; ++tick) {
          age = was_true[tick] ? 0 : age + 1;
          REQUIRE(value_of(answers[tick], values) == (age <= limit));
        }
      }
    }
  }
}

TEST_CASE("a sliding window costs at most three gates a tick") {
  Gates gates;
  SlidingOr window(399, false);
  constexpr std::size_t ticks = 4000;
  for (std::size_t tick = 0; tick < ticks; ++tick) window.next(gates, gates.variable());
  CHECK(gates.size() <= 1 + ticks + 3 * ticks);
}
