// A proof at one value is full of that value's numbers: "this clock is at most 5 ahead of that one". For the
// neighbour it would be 6. Which number of the design a 5 comes from is not written in the proof, so each
// number is tried as everything that it may be: itself; a limit of the design; the difference of two; give or
// take two. (The numbers of solver/guesses.cpp are made of the same.) The wrong readings fall out by
// themselves when Z3 is asked for a step, at any of the values, that breaks one.
#include "solver/even_guesses.hpp"

#include <algorithm>
#include <cstdint>
#include <iterator>
#include <set>
#include <tuple>
#include <utility>

namespace detent::solver {
namespace {

constexpr std::size_t most_readings = 48;  ///< of one clause
constexpr std::size_t most_guesses = 6000;
constexpr Value near = 2;

bool same_slope(const Even& one, const Even& other) {
  return one.per_row == other.per_row && one.per_column == other.per_column;
}

/// The design's own numbers that clocks and others are compared with, and 0; each once.
std::vector<Even> numbers_of(const Family& family) {
  std::vector<Even> numbers{{}};
  const auto add = [&](const Even& number) {
    if (std::find(numbers.begin(), numbers.end(), number) == numbers.end()) numbers.push_back(number);
  };
  for (const auto& [standing_for, number] : family.unknown()) add(number);
  for (const Memory& memory : family.machine().memories) {
    for (const Value limit : memory.limits) {
      if (!family.unknown().contains(limit)) add({limit, 0, 0});
    }
  }
  return numbers;
}

class Reader {
 public:
  Reader(const Family& family, const dsl::Model& model, const Proof& proof)
      : family_(family), first_(family.members().front()), numbers_(numbers_of(family)) {
    const Slice slice = slice_for(model, proof.slice_of);
    for (const Memory& memory : machine_of(slice, model, proof.slice_of).memories) {
      index_of_.push_back(family.memory_of(slice.whole_of[memory.node]));
      ends_.push_back(memory.clock ? memory.range.high : 0);
    }
  }

  void read(const Clause& clause, std::vector<EvenClause>& guesses) const {
    std::vector<EvenClause> readings{{}};
    for (const Atom& atom : clause) {
      const bool two = atom.kind == Atom::Kind::difference;
      if (index_of_[atom.first] == Family::no_memory ||
          (two && index_of_[atom.second] == Family::no_memory)) {
        return;  // of another claim that was proved with this one
      }
      std::vector<EvenClause> longer;
      for (const Even& limit : readings_of(atom)) {
        for (const EvenClause& one : readings) {
          if (longer.size() == most_readings) break;
          longer.push_back(one);
          longer.back().push_back({atom, limit});
          longer.back().back().atom.first = index_of_[atom.first];
          if (two) longer.back().back().atom.second = index_of_[atom.second];
        }
      }
      readings = std::move(longer);
    }
    guesses.insert(guesses.end(), readings.begin(), readings.end());
  }

 private:
  [[nodiscard]] std::vector<Even> readings_of(const Atom& atom) const {
    const Memory& memory = family_.machine().memories[index_of_[atom.first]];
    std::vector<Even> found{{atom.limit, 0, 0}};
    if (memory.clock && atom.kind == Atom::Kind::at_least && atom.limit == ends_[atom.first]) {
      // "Does not count any more"; or only "is beyond its last limit", after which it stops there.
      found.push_back({memory.range.high, 0, 0});
    }
    if (memory.condition) return found;
    for (const Even& plus : numbers_) {
      for (const Even& minus : numbers_) {
        if (same_slope(plus, minus)) continue;
        Even sum{plus.base - minus.base, plus.per_row - minus.per_row, plus.per_column - minus.per_column};
        const Value more = atom.limit - sum.at(first_.row, first_.column);
        sum.base += more;
        const bool is_near = -near <= more && more <= near;
        if (is_near && std::find(found.begin(), found.end(), sum) == found.end()) found.push_back(sum);
      }
    }
    return found;
  }

  const Family& family_;
  const Member& first_;
  std::vector<std::uint32_t> index_of_;  ///< by memory of the proof
  std::vector<Value> ends_;              ///< by memory of the proof: where a clock stops counting
  std::vector<Even> numbers_;
};

}  // namespace

std::vector<EvenClause> said_evenly(const Family& family, const dsl::Model& model, const Proof& proof) {
  const Reader reader(family, model, proof);
  std::vector<EvenClause> guesses;
  for (const Clause& clause : proof.invariant) {
    if (guesses.size() < most_guesses) reader.read(clause, guesses);
  }
  return guesses;
}

std::size_t ambiguities(const Family& family, const Member& member) {
  const std::vector<Even> numbers = numbers_of(family);
  std::set<std::tuple<Value, Value, Value>> sums;  // slopes, and where it is at the member
  for (const Even& plus : numbers) {
    for (const Even& minus : numbers) {
      sums.emplace(plus.at(member.row, member.column) - minus.at(member.row, member.column),
                   plus.per_row - minus.per_row, plus.per_column - minus.per_column);
    }
  }
  std::size_t count = 0;
  for (auto one = sums.begin(); one != sums.end(); ++one) {
    for (auto other = std::next(one); other != sums.end(); ++other) {
      if (std::get<0>(*other) - std::get<0>(*one) > 2 * near) break;
      const bool grow_alike =
          std::get<1>(*one) == std::get<1>(*other) && std::get<2>(*one) == std::get<2>(*other);
      count += grow_alike ? 0U : 1U;
    }
  }
  return count;
}

}  // namespace detent::solver
