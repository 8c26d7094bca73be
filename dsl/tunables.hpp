// The tunables of a design, and the design with other values in their place.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "dsl/diagnostics.hpp"
#include "dsl/model.hpp"
#include "dsl/source.hpp"
#include "dsl/tree.hpp"

namespace detent::dsl {

/// One `tunable` line. Its values are whole numbers: ticks of a time, and of a level the number without its
/// point (value / 10^decimals), where `decimals` are the most that its line has behind a point.
struct Tunable {
  std::string name;                    ///< in a part with the part's name before it: "two_step.patience"
  std::string doc;                     ///< its sentence, or ""
  Place place;                         ///< of the name
  bool is_time = false;                ///< else a level or a count
  Sort sort = {};                      ///< of a level
  Value written = 0;                   ///< the value in the text
  Value low = 0;                       ///< the lowest that may be tried
  Value high = 0;                      ///< the highest
  std::vector<std::size_t> path = {};  ///< where it stands in the tree: index by index, parts first
};

/// All of them, in the order of the text. What can't be read to whole ticks or levels of one unit is left
/// out; dsl::check reports it wherever it is used.
[[nodiscard]] std::vector<Tunable> tunables(const Tree& tree, std::int64_t tick_us);

/// A value in words: "3.5 s", "-98 %".
[[nodiscard]] std::string value_text(const Tunable& tunable, Value value, std::int64_t tick_us);

/// How far two values lie apart that are written as `text` ("0.5 %", "100 ms", "3 ticks", "2"): at least 1.
/// Nothing if the text is no such quantity, has another unit than the tunable, or is not a whole number.
[[nodiscard]] std::optional<Value> read_step(const Tunable& tunable, const std::string& text,
                                             std::int64_t tick_us);

/// A tunable, and the value that it is to have.
struct Setting {
  const Tunable* tunable = nullptr;  ///< of the same tree
  Value value = 0;                   ///< in its own units
};

/// What becomes of a text with these values in the place of the written ones.
struct Tried {
  std::optional<Model> model = {};  ///< absent if the values make the text wrong
  Diagnostics errors = {};          ///< then why
};

/// May be called from several threads at once.
[[nodiscard]] Tried with_values(const Tree& tree, const Sources& sources,
                                const std::vector<Setting>& settings);

}  // namespace detent::dsl
