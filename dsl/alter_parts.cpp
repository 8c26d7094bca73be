// The times, thresholds and conditions of an element, wherever they stand in its form and its expressions.
#include "dsl/alter.hpp"
#include "dsl/limits.hpp"
#include "dsl/walk.hpp"

namespace detent::dsl {
namespace {

bool is_level_constant(const Term& term) {
  return term.op == TermOp::constant && term.type.kind == SortKind::level;
}

void add_thresholds(Term& term, std::vector<Threshold>& found) {
  if (term.op == TermOp::less_equal || term.op == TermOp::equal) {
    for (const std::size_t side : {std::size_t{0}, std::size_t{1}}) {
      if (is_level_constant(term.operands[side]) && !is_level_constant(term.operands[1 - side])) {
        found.push_back({&term.operands[side], &term.operands[1 - side], {-largest_level, largest_level}});
      }
    }
  } else if (term.op == TermOp::hysteresis) {
    Term& on = term.operands[1];
    Term& off = term.operands[2];
    const bool below = term.value != 0;
    const auto up_to = [](Value limit) { return Range{-largest_level, limit}; };
    const auto from = [](Value limit) { return Range{limit, largest_level}; };
    found.push_back({&on, &term.operands[0], below ? up_to(off.value) : from(off.value)});
    found.push_back({&off, &term.operands[0], below ? from(on.value) : up_to(on.value)});
  }
}

/// The conditions inside this one, or this choice, that could be left out or taken for granted.
void add_conditions(Term& term, std::vector<WrittenCondition>& found) {
  const bool joins = term.op == TermOp::and_ || term.op == TermOp::or_;
  for (Term& operand : term.operands) {
    if (joins && operand.op != term.op && operand.op != TermOp::constant) {
      found.push_back({&operand, WrittenCondition::Role::side, term.op == TermOp::and_ ? 1 : 0});
    }
    const bool chooses = term.op == TermOp::choose && &operand == &term.operands.front();
    if (chooses && operand.op != TermOp::constant) {
      found.push_back({&operand, WrittenCondition::Role::choice, 0});
    }
    add_conditions(operand, found);
  }
}

}  // namespace

std::vector<WrittenCondition> conditions_of(ElementBody& body) {
  std::vector<WrittenCondition> found;
  const bool stages = std::holds_alternative<StagesBody>(body);
  const bool value = std::holds_alternative<ValueBody>(body);
  for (Term* whole : terms_of(body)) {
    if (!value && whole->type.kind == SortKind::condition && whole->op != TermOp::constant) {
      found.push_back({whole, stages ? WrittenCondition::Role::move : WrittenCondition::Role::whole, 0});
    }
    add_conditions(*whole, found);
  }
  return found;
}

std::vector<Value*> timers_of(ElementBody& body) {
  std::vector<Value*> timers;
  if (auto* pulse = std::get_if<PulseBody>(&body)) {
    timers.push_back(&pulse->ticks);
  } else if (auto* delay = std::get_if<DelayBody>(&body)) {
    timers.push_back(&delay->ticks);
  } else if (auto* linger = std::get_if<LingerBody>(&body)) {
    timers.push_back(&linger->ticks);
  } else if (auto* stages = std::get_if<StagesBody>(&body)) {
    for (CheckedMove& move : stages->moves) {
      if (move.after) {
        timers.push_back(&*move.after);
      }
    }
  }
  for (Term* whole : terms_of(body)) {
    visit(*whole, [&](Term& term) {
      if (term.op == TermOp::held || term.op == TermOp::recently) {
        timers.push_back(&term.value);
      }
    });
  }
  return timers;
}

std::vector<Threshold> thresholds_of(ElementBody& body) {
  std::vector<Threshold> found;
  for (Term* whole : terms_of(body)) {
    visit(*whole, [&](Term& term) { add_thresholds(term, found); });
  }
  return found;
}

}  // namespace detent::dsl
