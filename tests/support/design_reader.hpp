// A checked design read by the definitions of the language, over the whole history of a run: no circuit, no
// clocks, no sharing. The slow and obvious twin of lowering.
#pragma once

#include <vector>

#include "dsl/design.hpp"

namespace detent::test {

class DesignReader {
 public:
  explicit DesignReader(const dsl::Design& design) : design_(design), stages_(design.elements.size()) {}

  /// One tick more. `hands` has a value for each element, used for inputs (and links: 1 is lost).
  void step(const std::vector<dsl::Value>& hands, bool edges_counted_at_start);

  /// The value of an element as the design sees it, at a tick stepped before.
  [[nodiscard]] dsl::Value value(std::size_t element, std::size_t tick) const {
    return values_[tick][element];
  }
  [[nodiscard]] dsl::Value value(const dsl::Term& term, std::size_t tick) const;

 private:
  struct Stage {
    std::size_t entered = 0;
  };

  [[nodiscard]] bool is_true(const dsl::Term& term, std::size_t tick) const { return value(term, tick) != 0; }
  [[nodiscard]] bool rises(const dsl::Term& term, std::size_t tick) const;
  [[nodiscard]] bool changes(const dsl::Term& term, std::size_t tick) const;
  [[nodiscard]] bool hysteresis(const dsl::Term& term, std::size_t tick) const;
  [[nodiscard]] bool held(const dsl::Term& term, dsl::Value ticks, std::size_t tick) const;
  [[nodiscard]] bool recently(const dsl::Term& term, dsl::Value ticks, std::size_t tick) const;
  [[nodiscard]] bool since(const dsl::Term& term, std::size_t tick) const;
  [[nodiscard]] dsl::Value before(std::size_t element, dsl::Value start) const;

  dsl::Value next(std::size_t element);
  dsl::Value received(std::size_t element) const;
  dsl::Value pulse(std::size_t element, const dsl::PulseBody& body) const;
  dsl::Value latch(std::size_t element, const dsl::LatchBody& body) const;
  dsl::Value counter(std::size_t element, const dsl::CounterBody& body) const;
  dsl::Value stage(std::size_t element, const dsl::StagesBody& body);

  const dsl::Design& design_;
  bool edges_at_start_ = true;
  std::size_t now_ = 0;
  std::vector<Stage> stages_;
  std::vector<std::vector<dsl::Value>> hands_;   ///< by tick and element
  std::vector<std::vector<dsl::Value>> values_;  ///< by tick and element
};

}  // namespace detent::test
