// Gates are simplified as they are built: constants fold away (in the first ticks of an unrolling much is
// constant), and equal gates are one gate (Ershov, CACM 1(8), 1958). Operands are ordered and signs pulled
// out of `same` and `choose`, so that more gates are equal. `both` looks a few levels down for an operand
// that the other one settles (after Brummayer and Biere, "Local two-level and-inverter graph minimization
// without blowup", MEMICS 2006); that alone decides claims such as "never live while stop" on a latch that
// stop resets.
#include "solver/gates.hpp"

#include <utility>

namespace detent::solver {
namespace {

/// How many levels of `both` are looked through for a simplification.
constexpr int looking_depth = 3;

}  // namespace

Gates::Gates() {
  gates_.push_back({});
}

std::size_t Gates::Hash::operator()(const Gate& gate) const {
  std::uint64_t mixed = static_cast<std::uint64_t>(gate.kind);
  for (const Literal part : {gate.a, gate.b, gate.c}) {
    mixed = (mixed ^ part.code) * 0x9E3779B97F4A7C15U;
    mixed ^= mixed >> 29U;
  }
  return static_cast<std::size_t>(mixed);
}

Literal Gates::make(const Gate& gate) {
  const auto [place, fresh] = known_.try_emplace(gate, static_cast<std::uint32_t>(gates_.size()));
  if (fresh) gates_.push_back(gate);
  return {place->second * 2};
}

Literal Gates::variable() {
  gates_.push_back({GateKind::variable, {}, {}, {}});
  return {static_cast<std::uint32_t>(gates_.size() - 1) * 2};
}

bool Gates::includes(Literal a, Literal part, int depth) const {
  if (a == part) return true;
  const Gate& gate = gates_[a.gate()];
  if (depth == 0 || a.opposite() || gate.kind != GateKind::both) return false;
  return includes(gate.a, part, depth - 1) || includes(gate.b, part, depth - 1);
}

bool Gates::contradict(Literal a, Literal b, int depth) const {
  if (includes(b, !a, looking_depth)) return true;
  const Gate& gate = gates_[a.gate()];
  if (depth == 0 || a.opposite() || gate.kind != GateKind::both) return false;
  return contradict(gate.a, b, depth - 1) || contradict(gate.b, b, depth - 1);
}

// a, known that b is true: true, false or a itself where nothing is gained.
Literal Gates::knowing(Literal a, Literal b) const {
  if (includes(b, a, looking_depth)) return always_true;
  if (contradict(a, b, looking_depth)) return always_false;
  const Gate& gate = gates_[a.gate()];
  if (a.opposite() && gate.kind == GateKind::both) {  // not (c and d)
    if (contradict(gate.a, b, 1) || contradict(gate.b, b, 1)) return always_true;
    if (includes(b, gate.a, looking_depth)) return !gate.b;
    if (includes(b, gate.b, looking_depth)) return !gate.a;
  }
  return a;
}

Literal Gates::both(Literal a, Literal b) {
  if (a == always_false || b == always_false || a == !b) return always_false;
  if (a == always_true || a == b) return b;
  if (b == always_true) return a;
  if (const Literal simpler = knowing(a, b); simpler != a) return both(simpler, b);
  if (const Literal simpler = knowing(b, a); simpler != b) return both(a, simpler);
  if (b.code < a.code) std::swap(a, b);
  return make({GateKind::both, a, b, {}});
}

Literal Gates::same(Literal a, Literal b) {
  if (is_constant(a)) return a == always_true ? b : !b;
  if (is_constant(b)) return b == always_true ? a : !a;
  if (a.gate() == b.gate()) return literal(a == b);
  if (b.code < a.code) std::swap(a, b);
  const bool opposite = a.opposite() != b.opposite();
  const Literal gate = make({GateKind::same, {a.gate() * 2}, {b.gate() * 2}, {}});
  return opposite ? !gate : gate;
}

Literal Gates::choose(Literal a, Literal b, Literal c) {
  if (is_constant(a)) return a == always_true ? b : c;
  if (b == c) return b;
  if (a.opposite()) return choose(!a, c, b);
  if (b == !c) return same(a, b);
  if (b.gate() == a.gate()) b = literal(b == a);
  if (c.gate() == a.gate()) c = literal(c != a);
  if (b == always_true) return either(a, c);
  if (b == always_false) return both(!a, c);
  if (c == always_true) return either(!a, b);
  if (c == always_false) return both(a, b);
  if (b.opposite()) return !make({GateKind::choose, a, !b, !c});
  return make({GateKind::choose, a, b, c});
}

std::vector<bool> evaluate(const Gates& gates, const std::vector<bool>& variables) {
  std::vector<bool> values(gates.size());
  std::size_t next_variable = 0;
  for (std::uint32_t number = 0; number < gates.size(); ++number) {
    const Gate& gate = gates.gate(number);
    const auto value = [&values](Literal a) { return value_of(a, values); };
    switch (gate.kind) {
      case GateKind::constant:
        break;
      case GateKind::variable:
        values[number] = variables[next_variable++];
        break;
      case GateKind::both:
        values[number] = value(gate.a) && value(gate.b);
        break;
      case GateKind::same:
        values[number] = value(gate.a) == value(gate.b);
        break;
      case GateKind::choose:
        values[number] = value(gate.a) ? value(gate.b) : value(gate.c);
        break;
    }
  }
  return values;
}

}  // namespace detent::solver
