// Linear temporal logic over the infinite rows u.v.v.v…, by definition: every operator is a loop over ticks.
//
// A safety formula is broken for certain at the end of the first bad prefix: a beginning that no continuation
// can mend (Alpern and Schneider, "Recognizing safety and liveness", Distributed Computing 2, 1987). Here a
// prefix is taken for bad when none of its continuations by two letters, the second repeated for ever, is
// good. If that were too few continuations, the oracle would call a row broken too early, and the comparison
// with the monitors would fail for it.
#include "tests/support/formula_oracle.hpp"

#include <algorithm>
#include <array>
#include <functional>

namespace detent::test {
namespace {

using dsl::ClaimForm;
using Formula = std::function<bool(int)>;  // its truth at a tick

class Reading {
 public:
  Reading(const Word& word, int ticks)
      : word_(word), ticks_(ticks), end_(static_cast<int>(word.size()) + 2 * ticks + 2) {}

  [[nodiscard]] bool of(ClaimForm form) const {
    const Formula p = [this](int tick) { return letter(tick).p; };
    const Formula q = [this](int tick) { return letter(tick).q; };
    const Formula not_p = [p](int tick) { return !p(tick); };
    const auto globally_implies = [&](const Formula& a, const Formula& b) {
      return globally([&](int tick) { return !a(tick) || b(tick); });
    };
    switch (form) {
      case ClaimForm::always:
        return globally(p);
      case ClaimForm::never:
        return globally(not_p);
      case ClaimForm::never_while:
        return globally([&](int tick) { return !(p(tick) && q(tick)); });
      case ClaimForm::whenever:
      case ClaimForm::only_while:
        return globally_implies(p, q);
      case ClaimForm::whenever_within:
        return globally_implies(p, [&](int tick) { return finally(q, tick, tick + ticks_); });
      case ClaimForm::whenever_for:
        return globally_implies(p, [&](int tick) { return through(q, tick, tick + ticks_ - 1); });
      case ClaimForm::only_within:
        return globally_implies(p, [&](int tick) { return finally(q, std::max(0, tick - ticks_), tick); });
      case ClaimForm::only_after:
        return weak_until(not_p, q);
      case ClaimForm::lasts_at_least:  // G (rise of P -> G[0,T-1] P)
        return globally_implies([&](int tick) { return p(tick) && (tick == 0 || !p(tick - 1)); },
                                [&](int tick) { return through(p, tick, tick + ticks_ - 1); });
      case ClaimForm::lasts_at_most:  // G not G[0,T] P
        return globally([&](int tick) { return !through(p, tick, tick + ticks_); });
      case ClaimForm::possible:
      case ClaimForm::possible_within:
        break;
    }
    return false;
  }

 private:
  [[nodiscard]] Letter letter(int tick) const {
    return word_[std::min(static_cast<std::size_t>(tick), word_.size() - 1)];
  }
  // After the word's end nothing changes, so ticks further on than the times in a formula add nothing new.
  [[nodiscard]] bool globally(const Formula& a) const { return through(a, 0, end_); }
  static bool through(const Formula& a, int first, int last) {
    for (int tick = first; tick <= last; ++tick) {
      if (!a(tick)) return false;
    }
    return true;
  }
  static bool finally(const Formula& a, int first, int last) {
    for (int tick = first; tick <= last; ++tick) {
      if (a(tick)) return true;
    }
    return false;
  }
  // a W b = G a, or b at some tick and a at all before.
  [[nodiscard]] bool weak_until(const Formula& a, const Formula& b) const {
    for (int tick = 0; tick <= end_; ++tick) {
      if (b(tick)) return true;
      if (!a(tick)) return false;
    }
    return true;
  }

  const Word& word_;
  int ticks_;
  int end_;
};

constexpr std::array<Letter, 4> letters{{{false, false}, {false, true}, {true, false}, {true, true}}};

bool can_be_mended(ClaimForm form, int ticks, Word prefix) {
  prefix.resize(prefix.size() + 2);
  for (const Letter& first : letters) {
    for (const Letter& second : letters) {
      prefix[prefix.size() - 2] = first;
      prefix[prefix.size() - 1] = second;
      if (satisfies(form, ticks, prefix)) return true;
    }
  }
  return false;
}

}  // namespace

bool satisfies(ClaimForm form, int ticks, const Word& word) {
  return Reading(word, ticks).of(form);
}

std::optional<std::size_t> certainly_broken_at(ClaimForm form, int ticks, const Word& word) {
  for (std::size_t tick = 0; tick < word.size(); ++tick) {
    const Word prefix(word.begin(), word.begin() + static_cast<std::ptrdiff_t>(tick) + 1);
    if (!can_be_mended(form, ticks, prefix)) return tick;
  }
  return std::nullopt;
}

}  // namespace detent::test
