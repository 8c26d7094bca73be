// Gates: a formula over Boolean variables as a graph of three kinds of gate, each equal gate once.
// The encoding builds them, and solver/satisfiability.cpp hands them to Z3; nothing here knows of either.
#pragma once

#include <cstdint>
#include <unordered_map>
#include <vector>

namespace detent::solver {

/// A gate's output, or its opposite.
struct Literal {
  std::uint32_t code = 0;  ///< twice the gate's number, and one more for the opposite
  [[nodiscard]] std::uint32_t gate() const { return code / 2; }
  [[nodiscard]] bool opposite() const { return code % 2 != 0; }
  Literal operator!() const { return {code ^ 1U}; }
  friend bool operator==(const Literal&, const Literal&) = default;
};

inline constexpr Literal always_false{0};
inline constexpr Literal always_true{1};

inline constexpr Literal literal(bool value) {
  return value ? always_true : always_false;
}
inline bool is_constant(Literal a) {
  return a.gate() == 0;
}

enum class GateKind : std::uint8_t {
  constant,  ///< gate 0: false
  variable,
  both,    ///< a and b
  same,    ///< a == b
  choose,  ///< if a then b else c
};

struct Gate {
  GateKind kind = GateKind::constant;
  Literal a, b, c;
  friend bool operator==(const Gate&, const Gate&) = default;
};

class Gates {
 public:
  Gates();
  Literal variable();
  Literal both(Literal a, Literal b);
  Literal either(Literal a, Literal b) { return !both(!a, !b); }
  Literal same(Literal a, Literal b);
  Literal choose(Literal a, Literal b, Literal c);

  /// The fact always holds; whoever looks for values of the variable has to look for values of the fact too.
  void bind(Literal variable, Literal fact) { facts_.emplace(variable.gate(), fact); }
  /// The facts bound to a variable, as a range of a map's entries.
  [[nodiscard]] auto facts_of(std::uint32_t variable) const { return facts_.equal_range(variable); }

  [[nodiscard]] std::size_t size() const { return gates_.size(); }
  /// Roughly the memory in use: a gate, its entry in the table, and the table.
  [[nodiscard]] std::size_t bytes() const { return gates_.size() * (2 * sizeof(Gate) + 5 * sizeof(void*)); }
  [[nodiscard]] const Gate& gate(std::uint32_t number) const { return gates_[number]; }

 private:
  Literal make(const Gate& gate);
  /// Whether `a` is `part`, or several things together of which `part` is one (looking so many levels down).
  [[nodiscard]] bool includes(Literal a, Literal part, int depth) const;
  [[nodiscard]] bool contradict(Literal a, Literal b, int depth) const;
  [[nodiscard]] Literal knowing(Literal a, Literal b) const;
  struct Hash {
    std::size_t operator()(const Gate& gate) const;
  };
  std::vector<Gate> gates_;
  std::unordered_map<Gate, std::uint32_t, Hash> known_;
  std::unordered_multimap<std::uint32_t, Literal> facts_;
};

/// Every gate's value where the variables, in order of their making, have these values.
[[nodiscard]] std::vector<bool> evaluate(const Gates& gates, const std::vector<bool>& variables);

inline bool value_of(Literal a, const std::vector<bool>& values) {
  return values[a.gate()] != a.opposite();
}

}  // namespace detent::solver
