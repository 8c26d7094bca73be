// Random declarations of elements, each added to the vocabulary for those after it.
#pragma once

#include <string>
#include <vector>

#include "tests/support/random_expressions.hpp"

namespace detent::test {

/// A part that can be used, with what it offers to those who use it.
struct KnownPart {
  std::string name;
  bool has_level = false, has_count = false, has_duration = false;  ///< besides its first, a condition
  Vocabulary offers;
};

class RandomElements {
 public:
  /// Elements are called prefix0, prefix1, …
  RandomElements(Chance& chance, Vocabulary& names, const std::vector<KnownPart>& parts, std::string prefix)
      : chance_(chance), names_(names), parts_(parts), prefix_(std::move(prefix)) {}

  /// So many declarations, one text each.
  std::vector<std::string> declare(std::size_t count);

 private:
  enum class Kind {
    gate,
    level,
    position,
    pulse,
    delay,
    linger,
    latch,
    counter,
    kept_condition,
    kept_level,
    kept_position,
    sum,
    stages,
    output_level,
    output_condition,
    use,
  };
  struct Planned {
    Kind kind = Kind::gate;
    std::string name;
  };

  void plan(std::size_t count);
  void look_ahead(std::size_t from);
  std::string declaration(const Planned& planned);
  std::string clock(const Planned& planned);
  std::string pulse(const std::string& name);
  std::string latch(const std::string& name);
  std::string counter(const std::string& name);
  std::string kept(const Planned& planned);
  std::string sum(const std::string& name);
  std::string stages(const std::string& name);
  std::string output(const Planned& planned);
  std::string use(const std::string& name);
  std::string doc();
  void add_condition(const std::string& name) { names_.conditions.push_back(name); }

  Chance& chance_;
  Vocabulary& names_;
  const std::vector<KnownPart>& parts_;
  std::string prefix_;
  std::vector<Planned> plan_;
};

}  // namespace detent::test
