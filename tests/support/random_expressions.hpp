// Random expressions of the language, always of the kind asked for, over the names that are in sight.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "dsl/circuit.hpp"
#include "tests/support/chance.hpp"

namespace detent::test {

struct LevelName {
  std::string name;
  std::string unit;                        ///< "%" or ""
  std::optional<dsl::Range> channel = {};  ///< whole levels between which a channel moves
};
struct PositionName {
  std::string name;
  std::vector<std::string> words;
  bool by_hand = false;
};

/// The names that an expression may use.
struct Vocabulary {
  std::vector<std::string> conditions;  ///< at least one
  std::vector<LevelName> levels;
  std::vector<PositionName> positions;
  std::vector<std::string> buttons;
  std::vector<std::string> links;
  std::vector<std::string> durations;         ///< names of times of one to three ticks
  std::vector<std::string> later_conditions;  ///< declared further down: only inside previous(…)
  std::vector<std::string> later_counts;
};

class RandomExpressions {
 public:
  RandomExpressions(Chance& chance, const Vocabulary& names) : chance_(chance), names_(names) {}

  /// Each is complete in itself: a name, a call, or something in brackets.
  std::string condition(int depth);
  std::string level(const std::string& unit, int depth);
  /// An expression of the positions of this name.
  std::string position(const PositionName& positions, int depth);
  /// One to six ticks, said in one of many ways.
  std::string duration();
  std::string constant(const std::string& unit, std::int64_t low = -2, std::int64_t high = 4);

 private:
  std::string condition_name();
  std::string junction(int depth);
  std::string comparison(int depth);
  std::string compare(const std::string& left, const std::string& right);
  std::string about_position(int depth);
  std::string over_time(int depth);
  std::string remembered(int depth);
  std::string hysteresis(int depth);
  std::string level_name(const std::string& unit);
  std::string level_from_levels(const std::string& unit, int depth);
  [[nodiscard]] std::vector<LevelName> channels() const;

  Chance& chance_;
  const Vocabulary& names_;
};

}  // namespace detent::test
