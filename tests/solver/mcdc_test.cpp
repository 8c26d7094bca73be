// Smallest MC/DC sets against published tables.
//
// Source: the gate rules of Hayhurst, Veerhusen, Chilenski, Rierson, "A Practical Tutorial on Modified
// Condition/Decision Coverage", NASA/TM-2001-210876 (from memory); the values counted by hand-made
// enumeration beforehand, those of 4-AND also as given on math.SE 1645578, the independence pairs of (a or b)
// and (c or d) as in the README of a public MC/DC tool (both as reproduced there). N + 1 as the least for N
// conditions: Chilenski and Miller (as reproduced in the lecture notes of Ammann and Offutt). Masking can do
// with fewer: Chilenski, DOT/FAA/AR-01/18 (from memory).
#include <algorithm>
#include <functional>
#include <set>
#include <string>

#include "solver/mcdc.hpp"
#include "tests/support/catch.hpp"

namespace detent::test {
namespace {

using solver::Decision;
using solver::Mcdc;
using solver::Valuation;
using Set = std::set<std::string>;

/// "abc" with a first, as the tables have it.
std::string word(Valuation valuation, unsigned conditions) {
  std::string bits;
  for (unsigned bit = 0; bit < conditions; ++bit) bits += (valuation >> bit & 1U) != 0 ? '1' : '0';
  return bits;
}

Decision decision(unsigned conditions, const std::function<bool(const std::vector<bool>&)>& outcome) {
  Decision made{.conditions = conditions};
  for (Valuation valuation = 0; valuation < 1U << conditions; ++valuation) {
    std::vector<bool> values;
    for (unsigned bit = 0; bit < conditions; ++bit) values.push_back((valuation >> bit & 1U) != 0);
    made.outcome.push_back(outcome(values));
  }
  return made;
}

bool covers(const Decision& made, const std::vector<Valuation>& set, Mcdc variant) {
  for (unsigned condition = 0; condition < made.conditions; ++condition) {
    if (!solver::shows_condition(made, condition, set, variant)) return false;
  }
  return true;
}

/// All sets of so many valuations that show every condition: every subset is tried.
std::set<Set> all_sets(const Decision& made, std::size_t size, Mcdc variant) {
  std::set<Set> sets;
  for (std::uint32_t chosen = 0; chosen < 1U << made.outcome.size(); ++chosen) {
    std::vector<Valuation> set;
    for (Valuation valuation = 0; valuation < made.outcome.size(); ++valuation) {
      if ((chosen >> valuation & 1U) != 0) set.push_back(valuation);
    }
    if (set.size() != size || !covers(made, set, variant)) continue;
    Set words;
    for (const Valuation valuation : set) words.insert(word(valuation, made.conditions));
    sets.insert(words);
  }
  return sets;
}

using V = const std::vector<bool>&;

struct Row {
  const char* name;
  Decision made;
  std::size_t least;        ///< by unique cause
  std::size_t count;        ///< of sets of that size
  std::vector<Set> listed;  ///< all of them, or some
};

std::vector<Row> table() {
  return {
      {"not a", decision(1, [](V v) { return !v[0]; }), 2, 1, {{"0", "1"}}},
      {"a and b", decision(2, [](V v) { return v[0] && v[1]; }), 3, 1, {{"11", "01", "10"}}},
      {"a or b", decision(2, [](V v) { return v[0] || v[1]; }), 3, 1, {{"00", "01", "10"}}},
      {"a xor b",
       decision(2, [](V v) { return v[0] != v[1]; }),
       3,
       4,
       {{"00", "01", "10"}, {"00", "01", "11"}, {"00", "10", "11"}, {"01", "10", "11"}}},
      {"3-and", decision(3, [](V v) { return v[0] && v[1] && v[2]; }), 4, 1, {{"111", "011", "101", "110"}}},
      {"4-and",
       decision(4, [](V v) { return v[0] && v[1] && v[2] && v[3]; }),
       5,
       1,
       {{"1111", "0111", "1011", "1101", "1110"}}},
      {"3-or", decision(3, [](V v) { return v[0] || v[1] || v[2]; }), 4, 1, {{"000", "001", "010", "100"}}},
      {"3-xor", decision(3, [](V v) { return (v[0] != v[1]) != v[2]; }), 4, 32, {}},
      {"(a and b) or c",
       decision(3, [](V v) { return (v[0] && v[1]) || v[2]; }),
       4,
       2,
       {{"010", "100", "110", "011"}, {"010", "100", "110", "101"}}},
      {"a and (b or c)",
       decision(3, [](V v) { return v[0] && (v[1] || v[2]); }),
       4,
       2,
       {{"100", "101", "110", "001"}, {"100", "101", "110", "010"}}},
      {"majority", decision(3, [](V v) { return v[0] + v[1] + v[2] >= 2; }), 4, 6, {}},
      {"(a or b) and (c or d)",
       decision(4, [](V v) { return (v[0] || v[1]) && (v[2] || v[3]); }),
       5,
       4,
       {{"0001", "0100", "0101", "0110", "1001"}}},
      {"if s then a else b",
       decision(3, [](V v) { return v[0] ? v[1] : v[2]; }),
       4,
       2,
       {{"000", "001", "101", "111"}, {"010", "011", "100", "110"}}},
  };
}

TEST_CASE("smallest unique-cause sets are those of the tables", "[mcdc]") {
  for (const Row& row : table()) {
    INFO(row.name);
    for (std::size_t size = 0; size < row.least; ++size) {
      CHECK(all_sets(row.made, size, Mcdc::unique_cause).empty());
    }
    const std::set<Set> sets = all_sets(row.made, row.least, Mcdc::unique_cause);
    CHECK(sets.size() == row.count);
    for (const Set& set : row.listed) CHECK(sets.count(set) == 1);
    const solver::McdcSet found = solver::smallest_mcdc_set(row.made, Mcdc::unique_cause);
    CHECK(found.smallest);
    CHECK(found.not_shown.empty());
    Set words;
    for (const Valuation valuation : found.valuations) words.insert(word(valuation, row.made.conditions));
    CHECK(sets.count(words) == 1);
  }
}

TEST_CASE("masking needs fewer", "[mcdc]") {
  const Decision made = decision(4, [](V v) { return (v[0] || v[1]) && (v[2] || v[3]); });
  CHECK(all_sets(made, 3, Mcdc::masking).empty());
  const std::set<Set> sets = all_sets(made, 4, Mcdc::masking);
  CHECK(sets.size() == 18);
  CHECK(sets.count({"0001", "0100", "0101", "1010"}) == 1);
  const solver::McdcSet found = solver::smallest_mcdc_set(made, Mcdc::masking);
  CHECK(found.smallest);
  CHECK(found.valuations.size() == 4);
  CHECK(covers(made, found.valuations, Mcdc::masking));
}

TEST_CASE("the independence pairs of (a or b) and (c or d)", "[mcdc]") {
  const Decision made = decision(4, [](V v) { return (v[0] || v[1]) && (v[2] || v[3]); });
  const std::vector<std::set<std::string>> listed{{"0001/1001", "0010/1010", "0011/1011"},
                                                  {"0001/0101", "0010/0110", "0011/0111"},
                                                  {"0100/0110", "1000/1010", "1100/1110"},
                                                  {"0100/0101", "1000/1001", "1100/1101"}};
  for (unsigned condition = 0; condition < 4; ++condition) {
    std::set<std::string> pairs;
    for (Valuation one = 0; one < 16; ++one) {
      for (Valuation other = 0; other < 16; ++other) {
        const bool low = (one >> condition & 1U) == 0;
        if (low && solver::is_mcdc_pair(made, condition, one, other, Mcdc::unique_cause)) {
          pairs.insert(word(one, 4) + "/" + word(other, 4));
        }
      }
    }
    CHECK(pairs == listed[condition]);
  }
}

TEST_CASE("toggling every condition is not enough", "[mcdc]") {
  // {01, 10} of a and b moves both conditions, and never the decision.
  const Decision made = decision(2, [](V v) { return v[0] && v[1]; });
  CHECK_FALSE(covers(made, {1, 2}, Mcdc::unique_cause));
  CHECK_FALSE(covers(made, {1, 2}, Mcdc::masking));
}

TEST_CASE("what can't be had is left out, and what is there already costs nothing", "[mcdc]") {
  const Decision made = decision(2, [](V v) { return v[0] && v[1]; });
  const auto cost = [](Valuation valuation) -> std::optional<unsigned> {
    if (valuation == 1) return std::nullopt;  // a without b: then nothing shows b
    return 1;
  };
  const solver::McdcSet found = solver::smallest_mcdc_set(made, Mcdc::unique_cause, cost);
  CHECK(found.not_shown == std::vector<unsigned>{1});
  CHECK(found.valuations == std::vector<Valuation>{2, 3});

  const Decision xor_ = decision(2, [](V v) { return v[0] != v[1]; });
  const solver::McdcSet kept = solver::smallest_mcdc_set(xor_, Mcdc::unique_cause, [](Valuation valuation) {
    return std::optional<unsigned>(valuation == 2 ? 5 : 1);
  });
  CHECK(kept.valuations == std::vector<Valuation>{0, 1, 3});
}

TEST_CASE("larger decisions: N + 1 for a row of and, for a row of xor, and for a mix of 10", "[mcdc]") {
  const auto all = [](V v) { return std::all_of(v.begin(), v.end(), [](bool one) { return one; }); };
  const auto odd = [](V v) { return std::count(v.begin(), v.end(), true) % 2 == 1; };
  const auto mixed = [](V v) {
    bool value = v[0];
    for (std::size_t i = 1; i < v.size(); ++i) value = i % 2 == 0 ? value && v[i] : value || v[i];
    return value;
  };
  for (const auto& outcome :
       {std::function<bool(V)>(all), std::function<bool(V)>(odd), std::function<bool(V)>(mixed)}) {
    const Decision made = decision(10, outcome);
    const solver::McdcSet found = solver::smallest_mcdc_set(made, Mcdc::unique_cause);
    CHECK(found.valuations.size() == 11);
    CHECK(covers(made, found.valuations, Mcdc::unique_cause));
  }
}

}  // namespace
}  // namespace detent::test
