// The search: bounds on the cost from the least upwards, and for each bound depth first over the conditions,
// rarest pairs first, each time with a pair that shows the next condition that is not shown yet. Cheap pairs
// (valuations that the set has already) come first. A bound is given up after so many sets looked at; then
// the answer does not claim to be the smallest.
#include "solver/mcdc.hpp"

#include <algorithm>
#include <bit>
#include <numeric>

namespace detent::solver {
namespace {

constexpr std::size_t most_tries = 200'000;

bool hangs_on(const Decision& decision, unsigned condition, Valuation valuation) {
  return decision.outcome[valuation] != decision.outcome[valuation ^ (1U << condition)];
}

struct Pair {
  Valuation one = 0, other = 0;
};

class Search {
 public:
  Search(const Decision& decision, Mcdc variant, const ValuationCost& cost)
      : decision_(decision), variant_(variant), pairs_(decision.conditions) {
    for (Valuation valuation = 0; valuation < decision.outcome.size(); ++valuation) {
      costs_.push_back(cost(valuation));
    }
    chosen_.assign(costs_.size(), 0);
    for (unsigned condition = 0; condition < decision.conditions; ++condition) {
      list_pairs(condition);
      (pairs_[condition].empty() ? result_.not_shown : order_).push_back(condition);
    }
    std::stable_sort(order_.begin(), order_.end(),
                     [&](unsigned a, unsigned b) { return pairs_[a].size() < pairs_[b].size(); });
  }

  McdcSet run() {
    unsigned bound = least();
    while (!try_bound(bound)) ++bound;
    for (Valuation valuation = 0; valuation < chosen_.size(); ++valuation) {
      if (chosen_[valuation] > 0) result_.valuations.push_back(valuation);
    }
    return std::move(result_);
  }

 private:
  void list_pairs(unsigned condition) {
    std::vector<Valuation> low, high;  // with the condition false and true, where the outcome hangs on it
    for (Valuation valuation = 0; valuation < costs_.size(); ++valuation) {
      if (!costs_[valuation] || !hangs_on(decision_, condition, valuation)) continue;
      ((valuation >> condition & 1U) != 0 ? high : low).push_back(valuation);
    }
    for (const Valuation one : low) {
      if (variant_ == Mcdc::unique_cause) {
        const Valuation other = one | 1U << condition;
        if (costs_[other]) pairs_[condition].push_back({one, other});
        continue;
      }
      for (const Valuation other : high) {
        if (decision_.outcome[one] != decision_.outcome[other]) pairs_[condition].push_back({one, other});
      }
    }
  }

  /// A bound that no set can be below.
  [[nodiscard]] unsigned least() const {
    if (variant_ == Mcdc::masking || order_.empty()) return 0;
    const auto free = static_cast<std::size_t>(
        std::count_if(costs_.begin(), costs_.end(), [](const auto& cost) { return cost && *cost == 0; }));
    const std::size_t needed = order_.size() + 1;
    return needed > free ? static_cast<unsigned>(needed - free) : 0;
  }

  bool try_bound(unsigned bound) {
    tries_ = 0;
    const bool found = extend(0, 0, bound);
    if (!found && tries_ > most_tries) result_.smallest = false;
    return found;
  }

  [[nodiscard]] unsigned extra(Valuation valuation) const {
    return chosen_[valuation] > 0 ? 0 : *costs_[valuation];
  }
  [[nodiscard]] unsigned extra(const Pair& pair) const { return extra(pair.one) + extra(pair.other); }
  [[nodiscard]] bool is_chosen(const Pair& pair) const {
    return chosen_[pair.one] > 0 && chosen_[pair.other] > 0;
  }

  bool extend(std::size_t place, unsigned spent, unsigned bound) {
    while (place < order_.size() && std::any_of(pairs_[order_[place]].begin(), pairs_[order_[place]].end(),
                                                [&](const Pair& pair) { return is_chosen(pair); })) {
      ++place;
    }
    if (place == order_.size()) return true;
    for (unsigned wanted = 0; wanted <= bound - spent; ++wanted) {
      for (const Pair& pair : pairs_[order_[place]]) {
        if (extra(pair) != wanted) continue;
        if (++tries_ > most_tries) return false;
        ++chosen_[pair.one];
        ++chosen_[pair.other];
        if (extend(place + 1, spent + wanted, bound)) return true;
        --chosen_[pair.one];
        --chosen_[pair.other];
      }
    }
    return false;
  }

  const Decision& decision_;
  Mcdc variant_;
  std::vector<std::vector<Pair>> pairs_;  ///< by condition
  std::vector<unsigned> order_;
  std::vector<std::optional<unsigned>> costs_;
  std::vector<int> chosen_;  ///< how many of the chosen pairs hold it
  std::size_t tries_ = 0;
  McdcSet result_;
};

}  // namespace

bool is_mcdc_pair(const Decision& decision, unsigned condition, Valuation one, Valuation other,
                  Mcdc variant) {
  const Valuation bit = 1U << condition;
  if (((one ^ other) & bit) == 0 || decision.outcome[one] == decision.outcome[other]) return false;
  if (variant == Mcdc::unique_cause) return (one ^ other) == bit;
  return hangs_on(decision, condition, one) && hangs_on(decision, condition, other);
}

bool shows_condition(const Decision& decision, unsigned condition, const std::vector<Valuation>& set,
                     Mcdc variant) {
  return std::any_of(set.begin(), set.end(), [&](Valuation one) {
    return std::any_of(set.begin(), set.end(), [&](Valuation other) {
      return is_mcdc_pair(decision, condition, one, other, variant);
    });
  });
}

McdcSet smallest_mcdc_set(const Decision& decision, Mcdc variant, const ValuationCost& cost) {
  return Search(decision, variant, cost).run();
}

McdcSet smallest_mcdc_set(const Decision& decision, Mcdc variant) {
  return smallest_mcdc_set(decision, variant, [](Valuation) { return std::optional<unsigned>(1); });
}

}  // namespace detent::solver
