// A seeded source of choices: the same seed makes the same choices on every machine.
#pragma once

#include <cstdint>
#include <random>
#include <vector>

namespace detent::test {

class Chance {
 public:
  explicit Chance(std::uint64_t seed) : source_(seed) {}

  /// 0 … count - 1; count >= 1.
  std::size_t below(std::size_t count) { return static_cast<std::size_t>(source_() % count); }
  std::int64_t between(std::int64_t low, std::int64_t high) {
    return low + static_cast<std::int64_t>(below(static_cast<std::size_t>(high - low) + 1));
  }
  bool one_in(std::size_t count) { return below(count) == 0; }
  template <typename Item>
  const Item& pick(const std::vector<Item>& items) {
    return items[below(items.size())];
  }

 private:
  std::mt19937_64 source_;
};

}  // namespace detent::test
