// Random runs for people's designs: hands mostly move one thing, to a value that somebody looks at, and then
// wait until something is about to happen. Each channel is only ever put where a comparison can tell the
// difference (on a threshold, one step past it, at its ends), so that rare combinations come up; each wait
// ends now, at a clock's next number, or somewhere on the way.
#include "solver/samples.hpp"

#include <algorithm>
#include <random>
#include <set>
#include <unordered_set>

#include "solver/cone.hpp"

namespace detent::solver {
namespace {

using dsl::CircuitInput;

/// Values that samples may hold in all: some 130 MB, as each is kept twice. People's designs need far fewer.
constexpr std::size_t most_remembered = 8'000'000;

/// After Fowler, Noll and Vo (FNV-1a), a value at a time.
struct MemoryHash {
  std::size_t operator()(const std::vector<Value>& memory) const {
    std::uint64_t hash = 14695981039346656037ULL;
    for (const Value value : memory) hash = (hash ^ static_cast<std::uint64_t>(value)) * 1099511628211ULL;
    return static_cast<std::size_t>(hash ^ hash >> 32U);
  }
};

std::vector<std::vector<Value>> telling_values(const Machine& machine) {
  std::vector<NodeId> conditions;
  for (NodeId id = 0; id < machine.circuit->nodes().size(); ++id) {
    if (machine.circuit->node(id).condition) {
      conditions.push_back(id);
    }
  }
  const Cone cone = cone_of(*machine.circuit, conditions);
  std::vector<std::vector<Value>> values;
  for (const CircuitInput& input : machine.circuit->inputs()) {
    std::set<Value> telling{input.range.low, input.range.high};
    for (const Value threshold : cone.needs[input.node].thresholds) {
      const Value at = on_grid(input, threshold);
      telling.insert(at);
      telling.insert(std::min(at + input.step, input.range.high));
    }
    values.emplace_back(telling.begin(), telling.end());
  }
  return values;
}

class Sampler {
 public:
  Sampler(const Machine& machine, const std::vector<NodeId>& conditions, const SampleOptions& options)
      : machine_(machine),
        conditions_(conditions),
        options_(options),
        random_(options.seed),
        telling_(telling_values(machine)) {
    samples_.seen.assign(conditions.size(), false);
  }

  Samples run() {
    for (std::size_t run = 0; run < options_.runs && !is_late(); ++run) {
      one_run();
    }
    return std::move(samples_);
  }

 private:
  [[nodiscard]] bool is_late() const {
    return options_.limits != nullptr && options_.limits->reached() != Limit::none;
  }

  std::size_t below(std::size_t count) { return static_cast<std::size_t>(random_() % count); }

  void one_run() {
    Interpreter machine(*machine_.circuit);
    std::vector<Value> hands(telling_.size(), 0);
    for (std::size_t input = 0; input < hands.size(); ++input) {
      hands[input] = telling_[input][below(telling_[input].size())];
    }
    targets_ = hands;
    bool first = true;
    for (std::size_t step = 0; step < options_.steps; ++step) {
      if (is_late() || !take_step(machine, hands, first)) {
        return;
      }
      first = false;
      samples_.longest = std::max(samples_.longest, step + 1);
    }
  }

  // A few tries at a movement that the constraints allow.
  bool take_step(Interpreter& machine, std::vector<Value>& hands, bool first) {
    for (int attempt = 0; attempt < 12; ++attempt) {
      std::vector<Value> moved = hands;
      move(moved, first, attempt);
      Interpreter next = machine;
      next.step(moved);
      if (!allowed(next)) {
        continue;
      }
      machine = std::move(next);
      hands = std::move(moved);
      look(machine);
      wait(machine);
      remember(machine.memory());
      return true;
    }
    return false;
  }

  void move(std::vector<Value>& hands, bool first, int attempt) {
    const std::size_t kind = below(10);
    if (kind < 2 && attempt == 0) {
      return;  // leave everything where it is
    }
    const std::size_t count = kind < 8 ? 1 : 1 + below(hands.empty() ? 1 : hands.size());
    for (std::size_t moves = 0; moves < count && !hands.empty(); ++moves) {
      const std::size_t input = below(hands.size());
      targets_[input] = telling_[input][below(telling_[input].size())];
    }
    for (std::size_t input = 0; input < hands.size(); ++input) {
      hands[input] = first ? targets_[input] : towards(input, hands[input]);
    }
  }

  // As far as a rate limit allows in one tick.
  Value towards(std::size_t input, Value from) {
    for (const Ramp& ramp : machine_.ramps) {
      if (ramp.input == input) {
        return from + std::clamp(targets_[input] - from, -ramp.most, ramp.most);
      }
    }
    return targets_[input];
  }

  [[nodiscard]] bool allowed(const Interpreter& machine) const {
    return std::all_of(machine_.constraints.begin(), machine_.constraints.end(),
                       [&](NodeId id) { return machine.values()[id] != 0; });
  }

  void wait(Interpreter& machine) {
    constexpr Value no_end = 1'000'000'000'000;
    const std::size_t kind = below(4);
    if (kind < 2) {
      return;
    }
    const Value ahead = machine_.quiet.ahead(machine.values(), no_end);
    const Value longest = ahead == no_end ? longest_clock() + 1 : ahead;
    if (longest > 0) {
      machine.skip(kind == 2 ? longest : 1 + static_cast<Value>(below(static_cast<std::size_t>(longest))));
    }
  }

  [[nodiscard]] Value longest_clock() const {
    Value longest = 0;
    for (const Memory& memory : machine_.memories) {
      longest = std::max(longest, memory.clock ? memory.range.high : 0);
    }
    return longest;
  }

  void look(const Interpreter& machine) {
    for (std::size_t index = 0; index < conditions_.size(); ++index) {
      if (machine.values()[conditions_[index]] != 0) {
        samples_.seen[index] = true;
      }
    }
  }

  void remember(std::vector<Value> memory) {
    const bool has_room = (samples_.memories.size() + 1) * memory.size() <= most_remembered;
    if (has_room && seen_.insert(memory).second) {
      samples_.memories.push_back(std::move(memory));
    }
  }

  const Machine& machine_;
  const std::vector<NodeId>& conditions_;
  SampleOptions options_;
  std::mt19937_64 random_;
  std::vector<std::vector<Value>> telling_;
  std::vector<Value> targets_;
  std::unordered_set<std::vector<Value>, MemoryHash> seen_;
  Samples samples_;
};

}  // namespace

Samples sample(const Machine& machine, const std::vector<NodeId>& conditions, const SampleOptions& options) {
  return Sampler(machine, conditions, options).run();
}

}  // namespace detent::solver
