// Which invariants a design needs.
//
// Clocks that count at the same speed keep their difference, so what relates them is a bound on one clock or
// on the difference of two (the zones of Dill, "Timing assumptions and verification of finite-state
// concurrent systems", 1989), often only where a condition holds. Conditions and stages are related by short
// clauses. So the guesses are
// - literals: b, not b; stage is 2; clock <= limit, clock > limit (limits that the design compares with);
// - clauses: l1 or l2; l1 or l2 or l3;
// - bounded differences: clock1 - clock2 <= K, where no, one or two literals hold and clock2 still counts;
// - bounds: clock <= K, clock >= K, where a literal holds;
// with K made of the design's own numbers: the smallest sum or difference of them, give or take two, that no
// sample contradicts. (As for programs: Ernst et al., "Dynamically discovering likely program invariants",
// 1999.)
#include "solver/guesses.hpp"

#include <algorithm>
#include <cstdint>
#include <set>

#include "solver/cone.hpp"

namespace detent::solver {
namespace {

/// One bit for each sample.
class Marks {
 public:
  explicit Marks(std::size_t count) : words_((count + 63) / 64, 0) {}
  void set(std::size_t index) { words_[index / 64] |= std::uint64_t{1} << (index % 64); }
  [[nodiscard]] bool get(std::size_t index) const { return (words_[index / 64] >> (index % 64) & 1U) != 0; }
  [[nodiscard]] bool meets(const Marks& other) const {
    for (std::size_t word = 0; word < words_.size(); ++word) {
      if ((words_[word] & other.words_[word]) != 0) {
        return true;
      }
    }
    return false;
  }
  [[nodiscard]] Marks both(const Marks& other) const {
    Marks result = *this;
    for (std::size_t word = 0; word < words_.size(); ++word) {
      result.words_[word] &= other.words_[word];
    }
    return result;
  }
  [[nodiscard]] bool none() const {
    return std::all_of(words_.begin(), words_.end(), [](std::uint64_t word) { return word == 0; });
  }

 private:
  std::vector<std::uint64_t> words_;
};

struct Literal {
  Atom atom;
  Marks fails;  ///< the samples in which it is false
};

class Guesser {
 public:
  Guesser(const Machine& machine, const std::vector<std::vector<Value>>& samples, const Limits& limits,
          const Invariant* known)
      : machine_(machine), samples_(samples), limits_(limits), trusting_(known == nullptr) {
    if (known != nullptr) {
      known_.insert(known->begin(), known->end());
    }
    make_literals();
    make_constants();
  }

  std::vector<Clause> guess(Richness richness) {
    add_clauses(richness == Richness::triples);
    add_differences(nullptr);
    if (richness >= Richness::guarded) {
      for (const Literal& guard : literals_) {
        if (is_late()) break;
        add_bounds(guard);
        add_differences(&guard);
      }
    }
    if (richness == Richness::triples) {
      add_twice_guarded_differences();
    }
    return std::move(guesses_);
  }

 private:
  [[nodiscard]] bool is_late() const { return limits_.reached() != Limit::none; }

  void add_literal(const Atom& atom) {
    Literal literal{atom, Marks(samples_.size())};
    for (std::size_t index = 0; index < samples_.size(); ++index) {
      if (!holds(atom, samples_[index])) {
        literal.fails.set(index);
      }
    }
    literals_.push_back(std::move(literal));
  }

  void add_both(const Atom& atom) {
    add_literal(atom);
    add_literal(opposite(atom));
  }

  void make_literals() {
    std::vector<NodeId> conditions;
    for (NodeId id = 0; id < machine_.circuit->nodes().size(); ++id) {
      if (machine_.circuit->node(id).condition) {
        conditions.push_back(id);
      }
    }
    const Cone cone = cone_of(*machine_.circuit, conditions);
    for (std::uint32_t index = 0; index < machine_.memories.size() && !is_late(); ++index) {
      const Memory& memory = machine_.memories[index];
      if (memory.condition) {
        add_both({.kind = Atom::Kind::is, .first = index, .limit = 1});
      } else if (memory.clock) {
        for (const Value limit : memory.limits) {
          add_both({.kind = Atom::Kind::at_most, .first = index, .limit = limit});
        }
      } else if (memory.range.high - memory.range.low < 8) {
        for (Value value = memory.range.low; value <= memory.range.high; ++value) {
          add_both({.kind = Atom::Kind::is, .first = index, .limit = value});
        }
      } else {
        for (const Value limit : cone.needs[memory.node].thresholds) {
          add_both({.kind = Atom::Kind::at_most, .first = index, .limit = limit});
        }
      }
    }
  }

  void make_constants() {
    std::set<Value> limits{0};
    for (const Memory& memory : machine_.memories) {
      if (memory.clock) {
        limits.insert(memory.limits.begin(), memory.limits.end());
      }
    }
    std::set<Value> constants;
    for (const Value one : limits) {
      for (const Value other : limits) {
        for (Value near = -2; near <= 2; ++near) {
          constants.insert(one - other + near);
        }
      }
    }
    constants_.assign(constants.begin(), constants.end());
  }

  // ---- clauses of literals ----
  void add_clauses(bool triples) {
    const std::size_t count = literals_.size();
    triples = triples && count <= most_literals_for_triples;
    std::vector<std::vector<bool>> pairs;
    if (triples) pairs.assign(count, std::vector<bool>(count, false));
    for (std::size_t one = 0; one < count && guesses_.size() < most_pairs && !is_late(); ++one) {
      if (literals_[one].fails.none()) {
        guesses_.push_back({literals_[one].atom});
      }
      for (std::size_t other = one + 1; other < count && !is_settled(one); ++other) {
        if (is_settled(other) || literals_[one].fails.meets(literals_[other].fails) ||
            is_tautology(one, other)) {
          continue;
        }
        guesses_.push_back({literals_[one].atom, literals_[other].atom});
        if (triples) pairs[one][other] = trusting_ || known_.count(guesses_.back()) != 0;
      }
    }
    if (triples) {
      add_triples(pairs);
    }
  }

  void add_triples(const std::vector<std::vector<bool>>& pairs) {
    const std::size_t count = literals_.size();
    for (std::size_t one = 0; one < count && !is_late(); ++one) {
      for (std::size_t other = one + 1; other < count && !is_settled(one); ++other) {
        if (pairs[one][other] || is_settled(other) || is_tautology(one, other)) {
          continue;
        }
        const Marks both = literals_[one].fails.both(literals_[other].fails);
        for (std::size_t third = other + 1; third < count; ++third) {
          const bool shorter = pairs[one][third] || pairs[other][third] || is_settled(third) ||
                               is_tautology(one, third) || is_tautology(other, third);
          if (!shorter && !both.meets(literals_[third].fails) && guesses_.size() < most_guesses) {
            guesses_.push_back({literals_[one].atom, literals_[other].atom, literals_[third].atom});
          }
        }
      }
    }
  }

  // A literal so true that no longer clause with it is of interest.
  [[nodiscard]] bool is_settled(std::size_t literal) const {
    return literals_[literal].fails.none() && (trusting_ || known_.count({literals_[literal].atom}) != 0);
  }

  // Literals of one memory that hold by themselves between them: b or not b, clock <= 5 or clock > 3.
  [[nodiscard]] bool is_tautology(std::size_t one, std::size_t other) const {
    const Atom& a = literals_[one].atom;
    const Atom& b = literals_[other].atom;
    if (a.first != b.first) {
      return false;
    }
    const Memory& memory = machine_.memories[a.first];
    return memory.condition || memory.clock || a == opposite(b) ||
           (a.kind == Atom::Kind::is_not && b.kind == Atom::Kind::is_not);
  }

  // ---- bounds ----
  [[nodiscard]] const Value* at_least(Value value) const {
    const auto found = std::lower_bound(constants_.begin(), constants_.end(), value);
    return found == constants_.end() ? nullptr : &*found;
  }

  [[nodiscard]] bool counts(std::uint32_t clock, std::size_t sample) const {
    return samples_[sample][clock] < machine_.memories[clock].range.high;
  }

  void add_differences(const Literal* guard) {
    for (std::uint32_t one = 0; one < machine_.memories.size() && !is_late(); ++one) {
      for (std::uint32_t other = 0; other < machine_.memories.size(); ++other) {
        if (one != other && machine_.memories[one].clock && machine_.memories[other].clock) {
          add_difference(one, other, guard);
        }
      }
    }
  }

  void add_difference(std::uint32_t one, std::uint32_t other, const Literal* guard) {
    Value most = -machine_.memories[other].range.high;
    Value unguarded = most;
    bool seen = false;
    for (std::size_t index = 0; index < samples_.size(); ++index) {
      if (!counts(other, index)) {
        continue;
      }
      const Value difference = samples_[index][one] - samples_[index][other];
      unguarded = std::max(unguarded, difference);
      if (guard == nullptr || !guard->fails.get(index)) {
        most = std::max(most, difference);
        seen = true;
      }
    }
    const Value* limit = at_least(most);
    const bool says_more = guard == nullptr || most < unguarded;
    if (!seen || limit == nullptr || !says_more || *limit >= machine_.memories[one].range.high) {
      return;
    }
    Clause clause{
        {.kind = Atom::Kind::difference, .first = one, .second = other, .limit = *limit},
        {.kind = Atom::Kind::at_least, .first = other, .limit = machine_.memories[other].range.high}};
    if (guard != nullptr) {
      clause.push_back(opposite(guard->atom));
    }
    guesses_.push_back(std::move(clause));
  }

  // ---- differences where two literals hold ----
  // "x is mine and the other still reads": each guard alone says less. Of clocks only those that are compared
  // tell time; their own literals are no guards.
  void add_twice_guarded_differences() {
    std::vector<const Literal*> guards;
    for (const Literal& literal : literals_) {
      if (!machine_.memories[literal.atom.first].clock && !literal.fails.none()) {
        guards.push_back(&literal);
      }
    }
    for (std::uint32_t one = 0; one < machine_.memories.size() && !is_late(); ++one) {
      for (std::uint32_t other = 0; other < machine_.memories.size(); ++other) {
        if (one != other && machine_.memories[one].clock && machine_.memories[other].clock) {
          add_twice_guarded(one, other, guards);
        }
      }
    }
  }

  struct Seen {
    Value difference = 0;
    std::size_t sample = 0;
  };

  /// What the samples show of two clocks while the second counts, largest difference first.
  [[nodiscard]] std::vector<Seen> differences_seen(std::uint32_t one, std::uint32_t other) const {
    std::vector<Seen> seen;
    for (std::size_t index = 0; index < samples_.size(); ++index) {
      if (counts(other, index)) {
        seen.push_back({samples_[index][one] - samples_[index][other], index});
      }
    }
    std::stable_sort(seen.begin(), seen.end(),
                     [](const Seen& a, const Seen& b) { return a.difference > b.difference; });
    return seen;
  }

  void add_twice_guarded(std::uint32_t one, std::uint32_t other, const std::vector<const Literal*>& guards) {
    const std::vector<Seen> seen = differences_seen(one, other);
    const auto most_where = [&](const Literal& a, const Literal& b) -> const Value* {
      const auto first = std::find_if(seen.begin(), seen.end(), [&](const Seen& sample) {
        return !a.fails.get(sample.sample) && !b.fails.get(sample.sample);
      });
      return first == seen.end() ? nullptr : at_least(first->difference);
    };
    for (std::size_t a = 0; a < guards.size(); ++a) {
      const Value* alone = most_where(*guards[a], *guards[a]);
      for (std::size_t b = a + 1; b < guards.size() && guesses_.size() < most_guesses; ++b) {
        const Value* limit = most_where(*guards[a], *guards[b]);
        const Value* other_alone = limit == nullptr ? nullptr : most_where(*guards[b], *guards[b]);
        const bool says_more = limit != nullptr && (alone == nullptr || *limit < *alone) &&
                               (other_alone == nullptr || *limit < *other_alone);
        if (says_more && *limit < machine_.memories[one].range.high) {
          guesses_.push_back(
              {{.kind = Atom::Kind::difference, .first = one, .second = other, .limit = *limit},
               {.kind = Atom::Kind::at_least, .first = other, .limit = machine_.memories[other].range.high},
               opposite(guards[a]->atom),
               opposite(guards[b]->atom)});
        }
      }
    }
  }

  void add_bounds(const Literal& guard) {
    for (std::uint32_t clock = 0; clock < machine_.memories.size(); ++clock) {
      if (!machine_.memories[clock].clock || guard.atom.first == clock) {
        continue;
      }
      const Memory& memory = machine_.memories[clock];
      Value low = memory.range.high;
      Value high = 0;
      for (std::size_t index = 0; index < samples_.size(); ++index) {
        if (!guard.fails.get(index)) {
          low = std::min(low, samples_[index][clock]);
          high = std::max(high, samples_[index][clock]);
        }
      }
      if (low > high) {
        continue;  // the guard was never seen
      }
      const Value* above = at_least(high);
      if (above != nullptr && *above < memory.range.high) {
        guesses_.push_back(
            {opposite(guard.atom), {.kind = Atom::Kind::at_most, .first = clock, .limit = *above}});
      }
      const auto below = std::upper_bound(constants_.begin(), constants_.end(), low);
      if (below != constants_.begin() && *std::prev(below) > 0) {
        guesses_.push_back({opposite(guard.atom),
                            {.kind = Atom::Kind::at_least, .first = clock, .limit = *std::prev(below)}});
      }
    }
  }

  static constexpr std::size_t most_guesses = 60'000;
  /// No design that anybody could act out comes near these; beyond them, guesses cost more than they are
  /// worth.
  static constexpr std::size_t most_pairs = 200'000;
  static constexpr std::size_t most_literals_for_triples = 5'000;

  const Machine& machine_;
  const std::vector<std::vector<Value>>& samples_;
  const Limits& limits_;
  bool trusting_;
  std::set<Clause> known_;
  std::vector<Literal> literals_;
  std::vector<Value> constants_;
  std::vector<Clause> guesses_;
};

}  // namespace

std::vector<Clause> guess(const Machine& machine, const std::vector<std::vector<Value>>& samples,
                          Richness richness, const Limits& limits, const Invariant* known) {
  return Guesser(machine, samples, limits, known).guess(richness);
}

}  // namespace detent::solver
