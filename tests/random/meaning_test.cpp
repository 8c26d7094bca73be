// What a design means does not get lost on the way to the circuit: on random designs and random runs, every
// element, both sides of every claim and the tick in which the claim is broken are those that the definitions
// of the language give (tests/support/design_reader.hpp, tests/support/formula_oracle.hpp).
#include <algorithm>
#include <cstdlib>
#include <functional>
#include <map>
#include <optional>
#include <string>

#include <fmt/format.h>

#include "dsl/check.hpp"
#include "dsl/grammar.hpp"
#include "dsl/lower.hpp"
#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chance.hpp"
#include "tests/support/design_generator.hpp"
#include "tests/support/design_reader.hpp"
#include "tests/support/formula_oracle.hpp"
#include "tests/support/seeds.hpp"

using namespace detent;
using namespace detent::test;

namespace {

using dsl::Value;
using Words = std::optional<std::string>;

constexpr std::size_t ticks = 14;
constexpr int runs_of_each = 4;

struct Prepared {
  dsl::Design design;
  dsl::Model model;
};

std::optional<Prepared> prepared(const std::string& text) {
  dsl::Sources sources;
  dsl::Diagnostics diagnostics;
  const dsl::Tree tree = dsl::parse(sources, sources.add("random.detent", text), diagnostics);
  auto design = dsl::check(tree, sources, diagnostics);
  if (!design) return {};
  dsl::Model model = dsl::lower(*design, sources, diagnostics);
  if (dsl::has_errors(diagnostics)) return {};
  return Prepared{std::move(*design), std::move(model)};
}

/// Inputs mostly stay as they are, as they do under a hand.
solver::Run random_run(const dsl::Circuit& circuit, Chance& chance) {
  solver::Run run;
  for (std::size_t tick = 0; tick < ticks; ++tick) {
    std::vector<Value> row;
    for (std::size_t index = 0; index < circuit.inputs().size(); ++index) {
      const dsl::CircuitInput& input = circuit.inputs()[index];
      const Value steps = (input.range.high - input.range.low) / input.step;
      const bool stays = tick > 0 && chance.one_in(2);
      row.push_back(stays ? run.inputs.back()[index]
                          : input.range.low + input.step * chance.between(0, steps));
    }
    run.inputs.push_back(row);
  }
  return run;
}

class Comparison {
 public:
  explicit Comparison(const Prepared& prepared) : design_(prepared.design), model_(prepared.model) {
    for (std::size_t index = 0; index < design_.elements.size(); ++index) {
      elements_[design_.elements[index].name] = index;
    }
  }

  Words difference(Chance& chance) const {
    const solver::Run run = random_run(model_.circuit, chance);
    const solver::Trace trace = solver::replay(model_.circuit, run);
    DesignReader reader(design_);
    for (std::size_t tick = 0; tick < ticks; ++tick) {
      reader.step(hands(run.inputs[tick]), edges_at_start(run));
      if (Words words = of_signals(reader, trace, tick)) return words;
    }
    for (std::size_t index = 0; index < design_.claims.size(); ++index) {
      const dsl::Claim& claim = model_.claims[index];
      const std::function<bool(std::size_t)> broken = [&](std::size_t tick) {
        return trace.at(tick, claim.watch) != 0;
      };
      if (Words words = of_claim(reader, design_.claims[index], broken)) return words;
    }
    return of_constraints(reader, run, trace);
  }

 private:
  bool edges_at_start(const solver::Run& run) const {
    if (!model_.power_up_choice) return design_.edges == dsl::EdgeRule::counted;
    return run.inputs[0][model_.signals[*model_.power_up_choice].input] != 0;
  }

  std::vector<Value> hands(const std::vector<Value>& inputs) const {
    std::vector<Value> values(design_.elements.size(), 0);
    for (const dsl::Signal& signal : model_.signals) {
      const auto element = elements_.find(signal.name);
      if (signal.role == dsl::SignalRole::hand && element != elements_.end()) {
        values[element->second] = inputs[signal.input];
      }
    }
    return values;
  }

  Words of_signals(const DesignReader& reader, const solver::Trace& trace, std::size_t tick) const {
    for (const dsl::Signal& signal : model_.signals) {
      const std::string name = signal.name.substr(0, signal.name.find(" received"));
      const auto element = elements_.find(name);
      if (signal.role == dsl::SignalRole::hand || element == elements_.end()) continue;
      const Value read = reader.value(element->second, tick);
      if (read != trace.at(tick, signal.node)) {
        return fmt::format("{} at tick {}: circuit {}, definition {}", signal.name, tick,
                           trace.at(tick, signal.node), read);
      }
    }
    return {};
  }

  Words of_claim(const DesignReader& reader, const dsl::CheckedClaim& claim,
                 const std::function<bool(std::size_t)>& broken) const {
    Word word;
    for (std::size_t tick = 0; tick < ticks; ++tick) {
      word.push_back(
          {reader.value(claim.first, tick) != 0, claim.second && reader.value(*claim.second, tick) != 0});
    }
    const bool possible =
        claim.form == dsl::ClaimForm::possible || claim.form == dsl::ClaimForm::possible_within;
    std::optional<std::size_t> expected;
    for (std::size_t tick = ticks; possible && tick-- > 0;) {
      if (word[tick].p) expected = tick;
    }
    if (!possible)
      expected = certainly_broken_at(claim.form, static_cast<int>(claim.ticks.value_or(0)), word);
    for (std::size_t tick = 0; tick < ticks; ++tick) {
      if (!broken(tick)) continue;
      return expected == tick ? Words() : fmt::format("claim {} at tick {}", claim.name, tick);
    }
    return expected ? fmt::format("claim {} not at tick {}", claim.name, *expected) : Words();
  }

  // Rate limits come first, then the conditions at power-up, then the assumptions.
  Words of_constraints(const DesignReader& reader, const solver::Run& run, const solver::Trace& trace) const {
    const std::size_t assumptions = model_.constraints.size() - design_.assumptions.size();
    const std::size_t power_up = assumptions - design_.at_power_up.size();
    for (std::size_t index = 0; index < model_.constraints.size(); ++index) {
      const dsl::Constraint& constraint = model_.constraints[index];
      const std::function<bool(std::size_t)> broken = [&](std::size_t tick) {
        return trace.at(tick, constraint.node) == 0;
      };
      for (std::size_t tick = 0; tick < ticks && index < assumptions; ++tick) {
        const bool expected =
            index < power_up
                ? !is_slow_enough(constraint.name, run, tick)
                : tick == 0 && reader.value(design_.at_power_up[index - power_up].condition, 0) == 0;
        if (broken(tick) != expected) return fmt::format("'{}' at tick {}", constraint.name, tick);
      }
      if (index < assumptions) continue;
      if (Words words = of_claim(reader, design_.assumptions[index - assumptions], broken)) return words;
    }
    return {};
  }

  /// Whether the channel that this rate limit is about moved no more than it may since the tick before.
  bool is_slow_enough(const std::string& limit, const solver::Run& run, std::size_t tick) const {
    const std::string name = limit.substr(0, limit.find(' '));
    const auto& channel = std::get<dsl::ChannelBody>(design_.elements[elements_.at(name)].body);
    const auto signal = std::find_if(model_.signals.begin(), model_.signals.end(),
                                     [&](const dsl::Signal& one) { return one.name == name; });
    return tick == 0 || std::abs(run.inputs[tick][signal->input] - run.inputs[tick - 1][signal->input]) <=
                            channel.most_per_tick.value();
  }

  const dsl::Design& design_;
  const dsl::Model& model_;
  std::map<std::string, std::size_t> elements_;
};

Words difference(const std::string& text, std::uint64_t seed) {
  const auto design = prepared(text);
  if (!design) return {};
  Chance chance(seed + 1);
  for (int number = 0; number < runs_of_each; ++number) {
    if (Words words = Comparison(*design).difference(chance)) return words;
  }
  return {};
}

}  // namespace

TEST_CASE("Circuits do what the definitions of the language say", "[meaning]") {
  const Seeds range = seeds(300);
  for (std::uint64_t seed = range.first; seed < range.first + range.count; ++seed) {
    const std::string text = random_design(seed);
    REQUIRE(prepared(text));
    const Words words = difference(text, seed);
    if (!words) {
      SUCCEED();
      continue;
    }
    FAIL_CHECK("seed " << seed << ": " << *words << "\n"
                       << shrunk(text, [seed](const std::string& shorter) {
                            return difference(shorter, seed).has_value();
                          }));
  }
}

TEST_CASE("Random designs mean the same on one line", "[meaning]") {
  const Seeds range = seeds(300);
  for (std::uint64_t seed = range.first; seed < range.first + range.count; ++seed) {
    const std::string text = random_design(seed);
    std::string on_one_line = text;
    for (char& character : on_one_line) character = character == '\n' ? ' ' : character;
    const auto one = prepared(text);
    const auto other = prepared(on_one_line);
    REQUIRE(one);
    INFO("seed " << seed << "\n" << text);
    REQUIRE(other);
    CHECK(dsl::to_text(one->model.circuit) == dsl::to_text(other->model.circuit));
  }
}
