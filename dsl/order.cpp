// Dependencies by name, and depth-first orders over them (Tarjan, "Depth-first search and linear graph
// algorithms", SIAM J. Comput. 1(2), 1972), with a stack of their own so that long chains cost no recursion.
#include "dsl/order.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace detent::dsl {
namespace {

constexpr std::size_t most_loops_shown = 5;

struct Needs {
  std::vector<std::size_t> now;     ///< in the same tick
  std::vector<std::size_t> before;  ///< one tick ago, or as a starting value
};

void add_names(const Expr& expr, const Scope& scope, std::vector<std::size_t>& now,
               std::vector<std::size_t>& before) {
  if (expr.op == Op::name) {
    const Bound* bound = find(scope, expr.text);
    const auto* element = bound == nullptr ? nullptr : std::get_if<ElementBinding>(&bound->binding);
    if (element != nullptr) {
      now.push_back(element->index);
    }
  }
  const bool remembers = expr.op == Op::call && expr.text == "previous";
  for (const Expr& operand : expr.operands) {
    add_names(operand, scope, remembers ? before : now, before);
  }
}

/// Calls `see(expr, now)` for every expression of an element; `now` is false for starting values.
template <typename See>
struct EachExpr {
  See see;
  void some(const std::optional<Expr>& expr) const {
    if (expr) {
      see(*expr, true);
    }
  }
  void operator()(const SignalDeclaration& body) const { see(body.value, true); }
  void operator()(const PulseDeclaration& body) const {
    see(body.trigger, true);
    some(body.cancel);
  }
  void operator()(const DelayDeclaration& body) const { see(body.input, true); }
  void operator()(const LingerDeclaration& body) const { see(body.input, true); }
  void operator()(const LatchDeclaration& body) const {
    see(body.set, true);
    see(body.reset, true);
  }
  void operator()(const CounterDeclaration& body) const {
    see(body.up, true);
    some(body.down);
    some(body.reset);
    see(body.from, false);
    see(body.to, false);
  }
  void operator()(const KeepDeclaration& body) const {
    see(body.value, true);
    see(body.when, true);
    see(body.start, false);
  }
  void operator()(const StagesDeclaration& body) const {
    for (const Move& move : body.moves) {
      some(move.when);
    }
  }
  void operator()(const OutputDeclaration& body) const {
    see(body.value, true);
    some(body.when);
    some(body.otherwise);
  }
  void operator()(const ChannelDeclaration& body) const {
    see(body.from, false);
    see(body.to, false);
  }
  template <typename Other>
  void operator()(const Other&) const {}
};

std::vector<Needs> needs_of_all(const Collected& collected) {
  std::vector<Needs> needs(collected.elements.size());
  for (std::size_t index = 0; index < needs.size(); ++index) {
    const PendingElement& element = collected.elements[index];
    const auto see = [&](const Expr& expr, bool now) {
      add_names(expr, *element.scope, now ? needs[index].now : needs[index].before, needs[index].before);
    };
    if (element.argument != nullptr) {
      see(*element.argument, true);
      continue;
    }
    std::visit(EachExpr<decltype(see)>{see}, element.declaration->body);
    if (const auto* link = std::get_if<LinkDeclaration>(&element.declaration->body)) {
      for (const Name& carried : link->carried) {
        const Bound* bound = find(*element.scope, carried.text);
        const auto* input = bound == nullptr ? nullptr : std::get_if<ElementBinding>(&bound->binding);
        if (input != nullptr && input->index != index) {
          needs[input->index].now.push_back(index);  // what arrives depends on the link
        }
      }
    }
  }
  return needs;
}

/// Depth first, what is needed before what needs it. Calls `loop` with each circle that it closes.
template <typename Loop>
std::vector<std::size_t> depth_first(const std::vector<std::vector<std::size_t>>& needs, Loop loop) {
  enum class Mark : char { fresh, open, done };
  std::vector<Mark> marks(needs.size(), Mark::fresh);
  std::vector<std::size_t> order;
  std::vector<std::size_t> path;
  std::vector<std::size_t> next(needs.size(), 0);
  for (std::size_t root = 0; root < needs.size(); ++root) {
    if (marks[root] == Mark::fresh) {
      path.push_back(root);
      marks[root] = Mark::open;
    }
    while (!path.empty()) {
      const std::size_t top = path.back();
      if (next[top] == needs[top].size()) {
        marks[top] = Mark::done;
        order.push_back(top);
        path.pop_back();
        continue;
      }
      const std::size_t need = needs[top][next[top]++];
      if (marks[need] == Mark::fresh) {
        marks[need] = Mark::open;
        path.push_back(need);
      } else if (marks[need] == Mark::open) {
        loop(std::vector<std::size_t>(std::find(path.begin(), path.end(), need), path.end()));
      }
    }
  }
  return order;
}

/// Numbers the strongly connected components: elements that need each other, now or through `previous`, have
/// one number, and what an element needs has the same or a higher one (Sharir, "A strong-connectivity
/// algorithm and its applications in data flow analysis", Comput. Math. Appl. 7(1), 1981).
std::vector<std::size_t> components_of(const std::vector<std::vector<std::size_t>>& needs) {
  std::vector<std::vector<std::size_t>> needed_by(needs.size());
  for (std::size_t index = 0; index < needs.size(); ++index) {
    for (const std::size_t need : needs[index]) {
      needed_by[need].push_back(index);
    }
  }
  std::vector<std::size_t> numbers(needs.size(), 0);
  std::size_t count = 0;
  std::vector<std::size_t> order = depth_first(needs, [](const std::vector<std::size_t>&) {});
  std::vector<std::size_t> open;
  for (std::size_t place = order.size(); place-- > 0;) {
    if (numbers[order[place]] == 0) {
      open.push_back(order[place]);
      numbers[order[place]] = ++count;
    }
    while (!open.empty()) {
      const std::size_t index = open.back();
      open.pop_back();
      for (const std::size_t user : needed_by[index]) {
        if (numbers[user] == 0) {
          numbers[user] = count;
          open.push_back(user);
        }
      }
    }
  }
  return numbers;
}

// What is needed in the same tick always comes first; what a `previous` looks at does where no loop leads
// back.
std::vector<std::size_t> typing_order(const std::vector<std::size_t>& evaluation,
                                      const std::vector<std::vector<std::size_t>>& all) {
  const std::vector<std::size_t> numbers = components_of(all);
  std::vector<std::size_t> order = evaluation;
  std::stable_sort(order.begin(), order.end(),
                   [&numbers](std::size_t one, std::size_t other) { return numbers[one] > numbers[other]; });
  return order;
}

void report_loop(const std::vector<std::size_t>& loop, const Collected& collected, CheckContext& context) {
  std::string chain;
  std::vector<Note> notes;
  for (std::size_t station = 0; station < loop.size(); ++station) {
    const PendingElement& element = collected.elements[loop[station]];
    const PendingElement& needed = collected.elements[loop[(station + 1) % loop.size()]];
    chain += element.name + " -> ";
    if (notes.size() < 20) {
      notes.push_back({element.place, fmt::format("'{}' needs '{}'", element.name, needed.name)});
    }
    if (station == 20) {
      chain += "… -> ";
      break;
    }
  }
  const PendingElement& first = collected.elements[loop.front()];
  const std::string message =
      loop.size() == 1
          ? fmt::format("'{}' needs its own value in the same tick", first.name)
          : fmt::format("these elements need each other in the same tick: {}{}", chain, first.name);
  context.report(Code::combinational_loop, first.place, message,
                 "put previous(…) round one of them, so that it looks one tick back",
                 loop.size() == 1 ? std::vector<Note>{} : notes);
}

void mark_used(const Expr& expr, const Scope& scope, std::vector<bool>& used) {
  std::vector<std::size_t> named;
  add_names(expr, scope, named, named);
  for (const std::size_t index : named) {
    used[index] = true;
  }
}

/// For each element the part in use at the top of the file that brought it, counted from 1; 0 for none.
std::vector<std::size_t> part_of_each(const Collected& collected) {
  std::vector<std::size_t> parts(collected.elements.size(), 0);
  for (std::size_t part = 0; part < collected.parts_in_use.size(); ++part) {
    const PartInUse& use = collected.parts_in_use[part];
    std::fill(parts.begin() + static_cast<std::ptrdiff_t>(use.begin),
              parts.begin() + static_cast<std::ptrdiff_t>(use.end), part + 1);
  }
  return parts;
}

void mark_used_by_claims(const Collected& collected, std::vector<bool>& used) {
  const auto body = [&](const ClaimBody& claim, const Scope& scope) {
    mark_used(claim.first, scope, used);
    if (claim.second) {
      mark_used(*claim.second, scope, used);
    }
  };
  for (const Statement& claim : collected.claims) {
    body(std::get<ClaimDeclaration>(claim.declaration->body).body, *claim.scope);
  }
  for (const Statement& assumption : collected.assumptions) {
    body(std::get<AssumeDeclaration>(assumption.declaration->body).body, *assumption.scope);
  }
  for (const Statement& condition : collected.at_power_up) {
    mark_used(std::get<AtPowerUp>(condition.declaration->body).condition, *condition.scope, used);
  }
}

}  // namespace

Order order_elements(const Collected& collected, CheckContext& context) {
  const std::vector<Needs> needs = needs_of_all(collected);
  Order order{.typing = {},
              .evaluation = {},
              .used = std::vector<bool>(needs.size(), false),
              .used_from_outside = std::vector<bool>(needs.size(), false)};
  const std::vector<std::size_t> parts = part_of_each(collected);
  std::vector<std::vector<std::size_t>> now;
  std::vector<std::vector<std::size_t>> all;
  for (std::size_t index = 0; index < needs.size(); ++index) {
    now.push_back(needs[index].now);
    all.push_back(needs[index].now);
    all.back().insert(all.back().end(), needs[index].before.begin(), needs[index].before.end());
    for (const std::size_t need : all.back()) {
      order.used[need] = order.used[need] || need != index;
      order.used_from_outside[need] = order.used_from_outside[need] || parts[need] != parts[index];
    }
  }
  std::size_t loops = 0;
  order.evaluation = depth_first(now, [&](const std::vector<std::size_t>& loop) {
    if (loops++ < most_loops_shown) {
      report_loop(loop, collected, context);
    }
  });
  order.typing = typing_order(order.evaluation, all);
  mark_used_by_claims(collected, order.used);
  mark_used_by_claims(collected, order.used_from_outside);
  return order;
}

}  // namespace detent::dsl
