// The two readings of a circuit agree: whatever the inputs do, Z3 finds for every node the value that the
// interpreter computes. In every second design all numbers are encoded in binary; in the others each as the
// encoding chooses.
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "dsl/front.hpp"
#include "solver/cone.hpp"
#include "solver/encode.hpp"
#include "solver/interpreter.hpp"
#include "solver/satisfiability.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chance.hpp"
#include "tests/support/compiled.hpp"
#include "tests/support/design_generator.hpp"
#include "tests/support/seeds.hpp"

using namespace detent;
using namespace detent::test;

namespace {

using dsl::NodeId;
using dsl::Value;
using solver::Literal;

constexpr std::size_t ticks = 10;
constexpr int runs_of_each = 3;

/// A condition that is true where this input has this value.
struct Pin {
  std::size_t input = 0;
  Value value = 0;
  NodeId node = dsl::no_node;
};

class Comparison {
 public:
  Comparison(const dsl::Model& model, bool in_binary) : circuit_(model.circuit) {
    if (in_binary) force_digits();
    for (std::size_t index = 0; index < circuit_.inputs().size(); ++index) pin(index);
    if (!circuit_.finish().empty()) throw std::runtime_error("a value without bound");
    for (NodeId id = 0; id < circuit_.nodes().size(); ++id) {
      if (circuit_.node(id).condition) conditions_.push_back(id);
    }
  }

  /// How many numbers that vary are not encoded in binary.
  [[nodiscard]] std::size_t without_digits() const {
    const solver::Cone cone = solver::cone_of(circuit_, conditions_);
    std::size_t count = 0;
    for (NodeId id = 0; id < circuit_.nodes().size(); ++id) {
      const dsl::Node& node = circuit_.node(id);
      const bool varies = !node.condition && node.range.low != node.range.high;
      count += varies && !cone.needs[id].digits ? 1U : 0U;
    }
    return count;
  }

  /// `spoil` may change what the interpreter says, to see that it is noticed.
  std::optional<std::string> disagreement(
      Chance& chance, const std::function<void(const dsl::Circuit&, solver::Trace&)>& spoil = {}) {
    solver::Encoding encoding(circuit_, conditions_);
    for (std::size_t tick = 0; tick < ticks; ++tick) encoding.add_tick();
    solver::Gates& gates = encoding.gates();
    std::vector<Literal> all;
    for (std::size_t tick = 0; tick < ticks; ++tick) {
      for (const NodeId id : conditions_)
        all.push_back(gates.same(gates.variable(), encoding.condition(id, tick)));
    }
    solver::Satisfiability question(gates);
    for (const Literal fact : encoding.facts()) question.require(fact);
    for (const Literal one : all) question.require(one);  // so that every condition gets a value
    for (int number = 0; number < runs_of_each; ++number) {
      const solver::Run run = random_run(chance);
      if (question.ask(pinned(encoding, run)) != solver::Answer::yes) return "the encoding has no such run";
      if (encoding.run(question.values(), ticks).inputs != run.inputs)
        return "the inputs are not those asked for";
      solver::Trace trace = solver::replay(circuit_, run);
      if (spoil) spoil(circuit_, trace);
      if (auto words = encoding.disagreement(trace, question.values(), question.known())) return words;
    }
    return {};
  }

 private:
  // Where two numbers that vary are compared and one of them is wide, the encoding needs both in binary.
  void force_digits() {
    const auto count = static_cast<NodeId>(circuit_.nodes().size());
    const NodeId wide = circuit_.input({.name = "wide", .condition = false, .range = {0, 100}, .step = 1});
    for (NodeId id = 0; id < count; ++id) {
      if (!circuit_.node(id).condition) circuit_.equal(id, wide);
    }
  }

  void pin(std::size_t index) {
    const dsl::CircuitInput input = circuit_.inputs()[index];
    for (Value value = input.range.low; value <= input.range.high; value += input.step) {
      const NodeId node = input.condition ? value != 0 ? input.node : circuit_.not_(input.node)
                                          : circuit_.equal(input.node, circuit_.constant(value));
      pins_.push_back({index, value, node});
    }
  }

  solver::Run random_run(Chance& chance) const {
    solver::Run run;
    for (std::size_t tick = 0; tick < ticks; ++tick) {
      solver::Rows::Row row;
      for (const dsl::CircuitInput& input : circuit_.inputs()) {
        row.push_back(input.range.low +
                      input.step * chance.between(0, (input.range.high - input.range.low) / input.step));
      }
      run.inputs.push_back(row);
    }
    return run;
  }

  /// That the inputs do what they do in this run.
  Literal pinned(solver::Encoding& encoding, const solver::Run& run) const {
    Literal all = solver::always_true;
    for (std::size_t tick = 0; tick < ticks; ++tick) {
      for (const Pin& pin : pins_) {
        if (run.inputs[tick][pin.input] != pin.value) continue;
        all = encoding.gates().both(all, encoding.condition(pin.node, tick));
      }
    }
    return all;
  }

  dsl::Circuit circuit_;
  std::vector<NodeId> conditions_;
  std::vector<Pin> pins_;
};

std::optional<std::string> disagreement(const std::string& text, std::uint64_t seed) {
  Chance chance(seed + 1);
  return Comparison(compiled(text), seed % 2 == 1).disagreement(chance);
}

bool still_disagrees(const std::string& text, std::uint64_t seed) {
  return dsl::compile_text("", text).model && disagreement(text, seed).has_value();
}

}  // namespace

TEST_CASE("Interpreter and encoding agree on random designs", "[agreement]") {
  const Seeds range = seeds(300);
  for (std::uint64_t seed = range.first; seed < range.first + range.count; ++seed) {
    const std::string text = random_design(seed);
    const auto words = disagreement(text, seed);
    if (!words) {
      SUCCEED();
      continue;
    }
    FAIL_CHECK("seed " << seed << ": " << *words << "\n"
                       << shrunk(text, [seed](const std::string& shorter) {
                            return still_disagrees(shorter, seed);
                          }));
  }
}

TEST_CASE("Where all numbers are to be in binary, they are", "[agreement]") {
  std::size_t otherwise = 0;
  for (std::uint64_t seed = 0; seed < 50; ++seed) {
    INFO("seed " << seed);
    const dsl::Model model = compiled(random_design(seed));
    CHECK(Comparison(model, true).without_digits() == 0);
    otherwise += Comparison(model, false).without_digits();
  }
  CHECK(otherwise > 0);
}

TEST_CASE("A single wrong value of any node would be noticed", "[agreement]") {
  for (const bool in_binary : {false, true}) {
    const dsl::Model model = compiled(random_design(7));
    for (NodeId id = 0; id < model.circuit.nodes().size(); ++id) {
      const dsl::Node& node = model.circuit.node(id);
      if (node.range.low == node.range.high) continue;  // has no other value
      if (!node.condition && !in_binary) continue;      // perhaps not encoded
      Chance chance(id);
      const auto spoil = [&](const dsl::Circuit& circuit, solver::Trace& trace) {
        std::vector<solver::Trace::Moment> moments;
        for (std::size_t tick = 0; tick < ticks; ++tick) {
          moments.push_back({tick, {}});
          for (NodeId of = 0; of < circuit.nodes().size(); ++of) {
            moments.back().values.push_back(trace.at(tick, of));
          }
        }
        Value& value = moments[id % ticks].values[id];
        value = value == node.range.low ? node.range.high : node.range.low;
        trace = solver::Trace(circuit, moments, ticks);
      };
      INFO("node " << id);
      CHECK(Comparison(model, in_binary).disagreement(chance, spoil));
    }
  }
}
