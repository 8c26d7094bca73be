// The table of property patterns in dsl/README.md: each claim against the formula beside it, on all short
// rows.
//
// Checked: the table of property patterns in dsl/README.md: each claim against the formula beside it, on all
// rows up to six ticks | Dwyer, Avrunin, Corbett, ICSE 1999, and the authors' page; Konrad, Cheng, ICSE 2005
// | the page read in part; chains, bounded existence and some scopes from memory; the second as listed in
// secondary sources; forms with a limit are this project's
//
// The test reads the page, so that what stands there is what is tested. A row with a dash for its claim has
// to be one that some run breaks while none of its beginnings does; every other one is broken in the very
// tick in which no continuation can satisfy its formula any more.
#include <fmt/format.h>

#include <fstream>
#include <regex>
#include <sstream>

#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"
#include "tests/support/temporal.hpp"

using namespace detent;
using namespace detent::test;

namespace {

struct PatternRow {
  std::string pattern, scope, claim, formula;
};

std::string page() {
  std::ifstream file(DETENT_SOURCE_DIR "/dsl/README.md");
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

std::string trimmed(const std::string& text) {
  const std::size_t begin = text.find_first_not_of(' ');
  return begin == std::string::npos ? "" : text.substr(begin, text.find_last_not_of(' ') - begin + 1);
}

std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> cells;
  std::istringstream stream(line.substr(1));
  for (std::string cell; std::getline(stream, cell, '|');) cells.push_back(trimmed(cell));
  return cells;
}

std::string section() {
  const std::string text = page();
  const std::size_t begin = text.find("### Property patterns\n");
  REQUIRE(begin != std::string::npos);
  return text.substr(begin, text.find("\n## ", begin) - begin);
}

std::vector<PatternRow> rows() {
  std::vector<PatternRow> all;
  std::istringstream stream(section());
  for (std::string line; std::getline(stream, line);) {
    if (!line.starts_with("|") || line.starts_with("| ---") || line.starts_with("| pattern |")) continue;
    const std::vector<std::string> cells = cells_of(line);
    REQUIRE(cells.size() == 4);
    all.push_back({cells[0], cells[1], cells[2], cells[3]});
  }
  return all;
}

/// The lines of the section's design that make names for scopes.
std::string scope_signals() {
  std::string text;
  std::istringstream stream(section());
  for (std::string line; std::getline(stream, line);) {
    if (line.starts_with("signal ")) text += line + "\n";
  }
  return text;
}

/// The pieces in backquotes: declarations, and the claim last.
std::vector<std::string> code_in(const std::string& cell) {
  std::vector<std::string> pieces;
  for (std::size_t at = cell.find('`'); at != std::string::npos; at = cell.find('`', at + 1)) {
    const std::size_t end = cell.find('`', at + 1);
    REQUIRE(end != std::string::npos);
    pieces.push_back(cell.substr(at + 1, end - at - 1));
    at = end;
  }
  return pieces;
}

std::string with_time(const std::string& text, int ticks) {
  return std::regex_replace(text, std::regex("\\bT\\b"), fmt::format("{} ticks", ticks));
}

dsl::Model model_of(const PatternRow& row, int ticks) {
  std::vector<std::string> code = code_in(row.claim);
  std::string text = "tick 1 ms\nbutton P\nbutton Q\nbutton R\nbutton S\n" + scope_signals();
  for (std::size_t index = 0; index + 1 < code.size(); ++index) text += with_time(code[index], ticks) + "\n";
  return compiled(text + "claim pattern: " + with_time(code.back(), ticks) + "\n");
}

/// All rows of a formula's letters up to a length, each held against the monitor of the claim at every tick.
class Comparison {
 public:
  Comparison(const dsl::Model& model, const TemporalFormula& formula, std::size_t longest)
      : model_(model), formula_(formula), longest_(longest), watch_(claim_named(model, "pattern").watch) {
    for (const char letter : formula.letters())
      inputs_.push_back(signal_named(model, std::string(1, letter)).input);
  }

  /// The first row that the two do not agree on, in words, or "".
  std::string run() {
    go_on(solver::Interpreter(model_.circuit));
    return problem_;
  }
  [[nodiscard]] std::size_t broken() const { return broken_; }

 private:
  void go_on(const solver::Interpreter& before) {
    if (row_.size() == longest_ || !problem_.empty()) return;
    for (std::uint32_t mask = 0; mask < (1U << inputs_.size()); ++mask) {
      solver::Interpreter now = before;
      const std::vector<dsl::Value>& values = now.step(inputs_for(mask));
      row_.push_back(mask);
      const bool seen = values.at(watch_) != 0;
      const bool expected = formula_.is_lost(row_);
      if (seen != expected && problem_.empty()) problem_ = words(seen);
      if (expected) ++broken_;
      if (!expected) go_on(now);
      row_.pop_back();
    }
  }
  [[nodiscard]] std::vector<dsl::Value> inputs_for(std::uint32_t mask) const {
    std::vector<dsl::Value> values(model_.circuit.inputs().size(), 0);
    for (std::size_t index = 0; index < inputs_.size(); ++index)
      values[inputs_[index]] = (mask >> index) & 1U;
    return values;
  }
  [[nodiscard]] std::string words(bool seen) const {
    std::string text = seen ? "the claim alone is broken:" : "the formula alone is broken:";
    for (std::size_t index = 0; index < inputs_.size(); ++index) {
      text += fmt::format("  {} ", formula_.letters()[index]);
      for (const std::uint32_t mask : row_) text += ((mask >> index) & 1U) != 0 ? '1' : '0';
    }
    return text;
  }

  const dsl::Model& model_;
  const TemporalFormula& formula_;
  std::size_t longest_;
  dsl::NodeId watch_;
  std::vector<std::size_t> inputs_;
  std::vector<std::uint32_t> row_;
  std::string problem_;
  std::size_t broken_ = 0;
};

/// Up to six ticks, or five where all four conditions occur.
std::size_t longest_row(const TemporalFormula& formula) {
  return formula.letters().size() > 3 ? 5 : 6;
}

/// Whether some row that ends in one letter for ever breaks the formula, and none of its beginnings shows it.
bool is_lost_only_for_ever(const TemporalFormula& formula, std::vector<std::uint32_t>& row,
                           std::size_t longest) {
  if (!row.empty() && formula.is_lost(row)) return false;
  if (!row.empty() && !formula.holds(row)) {
    std::vector<std::uint32_t> longer = row;
    longer.resize(row.size() + 3, row.back());
    if (!formula.is_lost(longer)) return true;
  }
  for (std::uint32_t mask = 0; row.size() < longest && mask < (1U << formula.letters().size()); ++mask) {
    row.push_back(mask);
    const bool found = is_lost_only_for_ever(formula, row, longest);
    row.pop_back();
    if (found) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("Every pattern of the page is broken in the tick in which its formula is, on all rows") {
  const std::vector<PatternRow> all = rows();
  std::size_t compared = 0;
  for (const PatternRow& row : all) {
    if (code_in(row.claim).empty()) continue;
    const bool timed = row.formula.find('T') != std::string::npos;
    std::size_t broken = 0;
    for (const int ticks : timed ? std::vector{1, 3} : std::vector{1}) {
      INFO(row.pattern << ", " << row.scope << ", T = " << ticks << ": " << row.claim << "  " << row.formula);
      const TemporalFormula formula(row.formula, ticks);
      const dsl::Model model = model_of(row, ticks);
      Comparison comparison(model, formula, longest_row(formula));
      CHECK(comparison.run() == "");
      broken += comparison.broken();
      ++compared;
    }
    CHECK(broken > 0);
  }
  CHECK(compared >= 45);
}

TEST_CASE(
    "What the page says can't be said is what can be broken by waiting for ever, and seen in no beginning") {
  std::size_t unsaid = 0;
  for (const PatternRow& row : rows()) {
    if (!code_in(row.claim).empty()) continue;
    INFO(row.pattern << ", " << row.scope << ": " << row.formula);
    CHECK(row.claim == "–");
    std::vector<std::uint32_t> none;
    CHECK(is_lost_only_for_ever(TemporalFormula(row.formula, 1), none, 4));
    ++unsaid;
  }
  CHECK(unsaid >= 6);
}

TEST_CASE("The evaluator says what the published rows say") {
  const auto lost_at = [](const std::string& text, int ticks, const std::vector<std::uint32_t>& row) {
    const TemporalFormula formula(text, ticks);
    for (std::size_t length = 1; length <= row.size(); ++length) {
      if (formula.is_lost({row.begin(), row.begin() + static_cast<std::ptrdiff_t>(length)}))
        return static_cast<int>(length) - 1;
    }
    return -1;
  };
  // Letters P, S: bit 0 is P, bit 1 is S. The two published forms of precedence, on the rows where they
  // differ.
  const std::string newer = "¬P W S";
  const std::string older = "F P → (¬P U (S ∧ ¬P))";
  CHECK(lost_at(newer, 0, {0, 3, 0}) == -1);
  CHECK(lost_at(older, 0, {0, 3, 0}) == 1);
  CHECK(lost_at(newer, 0, {0, 2, 1}) == -1);
  CHECK(lost_at(older, 0, {0, 2, 1}) == -1);
  CHECK(lost_at(newer, 0, {0, 1, 2}) == 1);
  CHECK(lost_at(older, 0, {0, 1, 2}) == 1);
  // P at tick 1, S at tick 4: a bound of 3 holds, of 2 fails.
  CHECK(lost_at("G (P → F[0,T] S)", 3, {0, 1, 0, 0, 2}) == -1);
  CHECK(lost_at("G (P → F[0,T] S)", 2, {0, 1, 0, 0, 2}) == 3);
  CHECK(lost_at("G (P → F S)", 0, {0, 1, 0, 0, 0}) == -1);
  CHECK(TemporalFormula("G (P → F S)", 0).holds({1, 0, 2}));
  CHECK_FALSE(TemporalFormula("G (P → F S)", 0).holds({1, 0, 0}));
  CHECK_THROWS(TemporalFormula("G (P → ", 0));
  CHECK_THROWS(TemporalFormula("G P P", 0));
}
