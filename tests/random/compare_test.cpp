// Random designs against a version of themselves with one thing changed: what is proved the same must be the
// same in random runs of the two alone, and a design must be the same as itself. (That a run that is found
// parts them on the two alone is confirmed at every use, in solver/asker.cpp.)
#include "solver/compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "dsl/front.hpp"
#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chance.hpp"
#include "tests/support/design_generator.hpp"
#include "tests/support/seeds.hpp"

using namespace detent;
using namespace detent::test;

namespace {

using dsl::Model;
using dsl::side_a;
using dsl::side_b;
using dsl::Value;
using solver::Outcome;

/// One word of the text changed into another that may stand in its place; "" where there is nothing to
/// change.
std::string changed(const std::string& text, Chance& chance) {
  const std::vector<std::pair<std::string, std::string>> words{
      {" and ", " or "},      {" or ", " and "},    {" < ", " <= "},          {" >= ", " > "},
      {" rises(", " falls("}, {" not ", " "},       {" set wins", ""},        {" restarting", ""},
      {" 40 ms", " 60 ms"},   {" 60 ms", " 40 ms"}, {" 2 ticks", " 3 ticks"}, {" 1 ticks", " 2 ticks"}};
  std::vector<std::string> candidates;
  for (const auto& [from, to] : words) {
    for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + 1)) {
      // What is claimed is not compared.
      const std::size_t line = text.rfind('\n', at) + 1;
      if (text.compare(line, 6, "claim ") == 0 || text.compare(line, 7, "assume ") == 0) continue;
      candidates.push_back(text.substr(0, at) + to + text.substr(at + from.size()));
    }
  }
  return candidates.empty() ? "" : chance.pick(candidates);
}

/// Both models side by side; nothing where they do not fit together.
std::optional<dsl::SideBySide> side_by_side(const Model& a, const Model& b) {
  const auto match = dsl::match_signals(a, b, {});
  if (!std::holds_alternative<dsl::Match>(match)) return std::nullopt;
  return dsl::put_side_by_side(a, b, std::get<dsl::Match>(match));
}

std::vector<Value> any_row(const dsl::Circuit& circuit, Chance& chance) {
  std::vector<Value> row;
  for (const dsl::CircuitInput& input : circuit.inputs()) {
    const Value steps = (input.range.high - input.range.low) / input.step;
    row.push_back(input.range.low + chance.between(0, steps) * input.step);
  }
  return row;
}

/// A run that keeps all constraints, as long as chance finds a way on.
solver::Run any_run(const dsl::SideBySide& both, Chance& chance) {
  solver::Interpreter machine(both.model.circuit);
  solver::Run run;
  for (int tick = 0; tick < 25; ++tick) {
    for (int attempt = 0; attempt < 8; ++attempt) {
      std::vector<Value> row =
          !run.inputs.empty() && chance.one_in(2) ? run.inputs.back() : any_row(both.model.circuit, chance);
      solver::Interpreter next = machine;
      const auto& values = next.step(row);
      const bool kept = std::all_of(both.model.constraints.begin(), both.model.constraints.end(),
                                    [&](const dsl::Constraint& one) { return values[one.node] != 0; });
      if (!kept) continue;
      machine = next;
      run.inputs.push_back(row);
      break;
    }
    if (static_cast<int>(run.ticks()) <= tick) break;
  }
  return run;
}

/// The first pair that was proved the same and is not in this run of the two alone, or "".
std::string wrong(const Model& a, const Model& b, const dsl::SideBySide& both,
                  const solver::Comparison& answer, const solver::Run& run) {
  const solver::Trace one = solver::replay(a.circuit, solver::run_of_side(a, both, side_a, run));
  const solver::Trace other = solver::replay(b.circuit, solver::run_of_side(b, both, side_b, run));
  for (const solver::SignalAnswer& signal : answer.signals) {
    if (!signal.same()) continue;
    const auto [left, right] = both.compared[signal.compared].pair;
    const dsl::Sort& left_sort = a.signals[left].sort;
    const dsl::Sort& right_sort = b.signals[right].sort;
    for (std::size_t tick = 0; tick < one.ticks(); ++tick) {
      if (dsl::to_text(one.at(tick, a.signals[left].node), left_sort) !=
          dsl::to_text(other.at(tick, b.signals[right].node), right_sort)) {
        return fmt::format("{} at tick {}", a.signals[left].name, tick);
      }
    }
  }
  return "";
}

}  // namespace

TEST_CASE("a random design is the same as itself", "[compare]") {
  for (std::uint64_t seed = seeds(150).first; seed < seeds(150).first + seeds(150).count; ++seed) {
    const dsl::Compiled compiled = dsl::compile_text("random", random_design(seed));
    REQUIRE(compiled.model);
    const auto both = side_by_side(*compiled.model, *compiled.model);
    REQUIRE(both);
    INFO("seed " << seed);
    for (const dsl::Compared& one : both->compared) {
      for (const auto& way : one.ways) {
        CHECK(both->model.circuit.is_constant(way.node));
        CHECK(both->model.circuit.node(way.node).number == 0);
      }
    }
  }
}

TEST_CASE("what is proved the same in two random designs is the same in random runs", "[compare]") {
  std::size_t compared = 0;
  std::size_t same = 0;
  std::size_t parted = 0;
  std::size_t open = 0;
  for (std::uint64_t seed = seeds(25).first; seed < seeds(25).first + seeds(25).count; ++seed) {
    Chance chance(seed);
    const std::string text = random_design(seed);
    const dsl::Compiled a = dsl::compile_text("a", text);
    const dsl::Compiled b = dsl::compile_text("b", changed(text, chance));
    if (!a.model || !b.model) continue;
    const auto both = side_by_side(*a.model, *b.model);
    if (!both) continue;
    const solver::Comparison answer =
        solver::compare(*a.model, *b.model, *both, {}, {.timeout = std::chrono::milliseconds(1500)});
    if (answer.contradiction) continue;
    ++compared;
    for (const solver::SignalAnswer& signal : answer.signals) {
      ++(signal.same() ? same : signal.any(Outcome::shown) ? parted : open);
    }
    for (int count = 0; count < 60; ++count) {
      const std::string words = wrong(*a.model, *b.model, *both, answer, any_run(*both, chance));
      INFO("seed " << seed << "\n" << text);
      REQUIRE(words.empty());
    }
  }
  UNSCOPED_INFO(compared << " pairs: " << same << " signals the same, " << parted << " part, " << open
                         << " open");
  CHECK((compared > 0 && same > 0 && parted > 0));
}
