// Every claim form against its formula, over all rows of two conditions up to six ticks.
//
// Source: the formulas of linear temporal logic, with past operators and time bounds, that define the forms
// (dsl/tree.hpp); globally, until and weak until as on the pattern authors' page (Dwyer, Avrunin, Corbett,
// ICSE 1999, read), bounded operators as in Konrad and Cheng, ICSE 2005 (as listed in secondary sources).
//
// Checked: every claim form against its temporal formula, on all rows up to six ticks | Dwyer, Avrunin,
// Corbett, ICSE 1999; Konrad, Cheng, ICSE 2005 | the authors' page read; the second as listed in secondary
// sources
#include <fmt/format.h>

#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"
#include "tests/support/formula_oracle.hpp"

using namespace detent;
using namespace detent::test;

namespace {

using dsl::ClaimForm;

constexpr std::size_t longest_row = 6;

struct Case {
  ClaimForm form;
  int ticks = 0;
  std::string body;
};

std::vector<Case> cases() {
  std::vector<Case> all{
      {ClaimForm::always, 0, "always p"},
      {ClaimForm::never, 0, "never p"},
      {ClaimForm::never_while, 0, "never p while q"},
      {ClaimForm::whenever, 0, "whenever p: q"},
      {ClaimForm::only_while, 0, "p only while q"},
      {ClaimForm::only_after, 0, "p only after q"},
  };
  for (int ticks = 0; ticks <= 4; ++ticks) {
    all.push_back({ClaimForm::whenever_within, ticks, fmt::format("whenever p: q within {} ticks", ticks)});
    all.push_back({ClaimForm::only_within, ticks, fmt::format("p only within {} ticks after q", ticks)});
    if (ticks == 0) continue;
    all.push_back({ClaimForm::whenever_for, ticks, fmt::format("whenever p: q for {} ticks", ticks)});
    all.push_back({ClaimForm::lasts_at_least, ticks, fmt::format("p lasts at least {} ticks", ticks)});
    all.push_back({ClaimForm::lasts_at_most, ticks, fmt::format("p lasts at most {} ticks", ticks)});
  }
  return all;
}

dsl::Model model_of(const std::vector<Case>& all, const std::string& keyword) {
  std::string text = "tick 1 ms\nbutton p\nbutton q\nclaim other: never p and q\n";
  for (std::size_t index = 0; index < all.size(); ++index) {
    text += fmt::format("{} c{}: {}\n", keyword, index, all[index].body);
  }
  return compiled(text);
}

/// Word number `number` of the 4^length of this length.
Word word_number(std::size_t number, std::size_t length) {
  Word word;
  for (std::size_t tick = 0; tick < length; ++tick, number /= 4) {
    word.push_back({number % 2 == 1, number / 2 % 2 == 1});
  }
  return word;
}

std::optional<std::size_t> first_true(const solver::Trace& trace, dsl::NodeId node, bool value) {
  for (std::size_t tick = 0; tick < trace.ticks(); ++tick) {
    if ((trace.at(tick, node) != 0) == value) return tick;
  }
  return std::nullopt;
}

std::string said(const Word& word) {
  std::string p, q;
  for (const Letter& letter : word) {
    p += letter.p ? '1' : '0';
    q += letter.q ? '1' : '0';
  }
  return "P " + p + "  Q " + q;
}

// Calls visit(word, trace) for every word of the longest length; shorter ones are their beginnings.
template <typename Visit>
void every_word(const dsl::Model& model, Visit visit) {
  for (std::size_t number = 0; number < (std::size_t{1} << (2 * longest_row)); ++number) {
    const Word word = word_number(number, longest_row);
    solver::Run run;
    for (const Letter& letter : word) run.inputs.push_back({letter.p ? 1 : 0, letter.q ? 1 : 0});
    visit(word, solver::replay(model.circuit, run));
  }
}

}  // namespace

TEST_CASE("The oracle says what the published rows say") {
  const Word same_tick{{false, false}, {true, true}, {false, false}};
  const Word s_after_p{{false, false}, {true, false}, {false, true}};
  CHECK_FALSE(certainly_broken_at(ClaimForm::only_after, 0, same_tick));
  CHECK(certainly_broken_at(ClaimForm::only_after, 0, s_after_p) == 1U);
  const Word late{{false, false}, {true, false}, {false, false}, {false, false}, {false, true}};
  CHECK_FALSE(certainly_broken_at(ClaimForm::whenever_within, 3, late));
  CHECK(certainly_broken_at(ClaimForm::whenever_within, 2, late) == 3U);
}

TEST_CASE("Each claim form is broken in the tick in which its formula is, on all rows") {
  const std::vector<Case> all = cases();
  const dsl::Model model = model_of(all, "claim");
  every_word(model, [&](const Word& word, const solver::Trace& trace) {
    for (std::size_t index = 0; index < all.size(); ++index) {
      const auto expected = certainly_broken_at(all[index].form, all[index].ticks, word);
      const auto seen = first_true(trace, claim_named(model, fmt::format("c{}", index)).watch, true);
      if (seen != expected) {
        FAIL_CHECK(all[index].body << " on " << said(word) << ": monitor "
                                   << (seen ? std::to_string(*seen) : "never") << ", formula "
                                   << (expected ? std::to_string(*expected) : "never"));
      }
    }
  });
}

TEST_CASE("Each assumption ends to hold in the tick in which its formula is broken, on all rows") {
  const std::vector<Case> all = cases();
  const dsl::Model model = model_of(all, "assume");
  every_word(model, [&](const Word& word, const solver::Trace& trace) {
    for (std::size_t index = 0; index < all.size(); ++index) {
      const auto expected = certainly_broken_at(all[index].form, all[index].ticks, word);
      const auto seen = first_true(trace, model.constraints.at(index).node, false);
      if (seen != expected) FAIL_CHECK("assume " << all[index].body << " on " << said(word));
    }
  });
}

// possible P is E F P, possible P within T is E F[0,T] P: what a run has to do is P, and T is told.
TEST_CASE("What `possible` watches for is P itself") {
  const dsl::Model model = compiled(
      "tick 1 ms\nbutton p\nbutton q\nclaim some_time: possible p\nclaim soon: possible p within 3 ticks\n"
      "claim other: never q\n");
  CHECK(claim_named(model, "some_time").possible);
  CHECK_FALSE(claim_named(model, "some_time").within);
  CHECK(claim_named(model, "soon").within == 3);
  every_word(model, [&](const Word& word, const solver::Trace& trace) {
    for (std::size_t tick = 0; tick < word.size(); ++tick) {
      const bool both = trace.at(tick, claim_named(model, "some_time").watch) == (word[tick].p ? 1 : 0) &&
                        trace.at(tick, claim_named(model, "soon").watch) == (word[tick].p ? 1 : 0);
      if (!both) FAIL_CHECK(said(word));
    }
  });
}
