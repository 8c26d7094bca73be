#include "tests/support/design_reader.hpp"

#include <algorithm>
#include <cstdlib>

namespace detent::test {

using dsl::Term;
using dsl::TermOp;
using dsl::Value;

void DesignReader::step(const std::vector<Value>& hands, bool edges_counted_at_start) {
  now_ = values_.size();
  if (now_ == 0) edges_at_start_ = edges_counted_at_start;
  hands_.push_back(hands);
  values_.emplace_back(design_.elements.size(), 0);
  for (const std::size_t element : design_.order) values_[now_][element] = next(element);
}

// ---- expressions ----

Value DesignReader::value(const Term& term, std::size_t tick) const {
  const auto of = [&](std::size_t index) { return value(term.operands[index], tick); };
  const auto any = [&](bool wanted) {
    return std::any_of(term.operands.begin(), term.operands.end(),
                       [&](const Term& operand) { return is_true(operand, tick) == wanted; });
  };
  switch (term.op) {
    case TermOp::constant:
      return term.value;
    case TermOp::reference:
    case TermOp::lost:
      return values_[tick][term.element];
    case TermOp::hand:
      return hands_[tick][term.element];
    case TermOp::not_:
      return of(0) == 0 ? 1 : 0;
    case TermOp::and_:
      return any(false) ? 0 : 1;
    case TermOp::or_:
      return any(true) ? 1 : 0;
    case TermOp::equal:
      return of(0) == of(1) ? 1 : 0;
    case TermOp::less_equal:
      return of(0) <= of(1) ? 1 : 0;
    case TermOp::add: {
      Value sum = 0;
      for (const Term& operand : term.operands) sum += value(operand, tick);
      return sum;
    }
    case TermOp::times:
      return term.value * of(0);
    case TermOp::choose:
      return of(0) != 0 ? of(1) : of(2);
    case TermOp::minimum:
      return std::min(of(0), of(1));
    case TermOp::maximum:
      return std::max(of(0), of(1));
    case TermOp::absolute:
      return std::abs(of(0));
    case TermOp::rises:
      return rises(term.operands[0], tick) ? 1 : 0;
    case TermOp::changes:
      return changes(term.operands[0], tick) ? 1 : 0;
    case TermOp::hysteresis:
      return hysteresis(term, tick) ? 1 : 0;
    case TermOp::previous:
      return tick == 0 ? term.value : value(term.operands[0], tick - 1);
    case TermOp::held:
      return held(term.operands[0], term.value, tick) ? 1 : 0;
    case TermOp::recently:
      return recently(term.operands[0], term.value, tick) ? 1 : 0;
    case TermOp::since:
      return since(term, tick) ? 1 : 0;
  }
  return 0;
}

bool DesignReader::rises(const Term& term, std::size_t tick) const {
  if (!is_true(term, tick)) return false;
  return tick == 0 ? edges_at_start_ : !is_true(term, tick - 1);
}

bool DesignReader::changes(const Term& term, std::size_t tick) const {
  return tick == 0 ? edges_at_start_ : value(term, tick) != value(term, tick - 1);
}

// The last tick at which the level was past one of the two thresholds decides; before any it is off.
bool DesignReader::hysteresis(const Term& term, std::size_t tick) const {
  const bool below = term.value != 0;
  for (std::size_t back = tick + 1; back-- > 0;) {
    const Value level = value(term.operands[0], back);
    const Value on = value(term.operands[1], back);
    const Value off = value(term.operands[2], back);
    if (below ? level < on : level > on) return true;
    if (below ? level > off : level < off) return false;
  }
  return false;
}

// Now and in each of the ticks before; what was before tick 0 does not count.
bool DesignReader::held(const Term& term, Value ticks, std::size_t tick) const {
  for (Value back = 0; back <= ticks; ++back) {
    const Value at = static_cast<Value>(tick) - back;
    if (at < 0 || !is_true(term, static_cast<std::size_t>(at))) return false;
  }
  return true;
}

bool DesignReader::recently(const Term& term, Value ticks, std::size_t tick) const {
  for (Value back = 0; back <= std::min(ticks, static_cast<Value>(tick)); ++back) {
    if (is_true(term, tick - static_cast<std::size_t>(back))) return true;
  }
  return false;
}

// since(a, b): b at some tick, and a at all ticks after it.
bool DesignReader::since(const Term& term, std::size_t tick) const {
  for (std::size_t back = tick + 1; back-- > 0;) {
    if (is_true(term.operands[1], back)) return true;
    if (!is_true(term.operands[0], back)) return false;
  }
  return term.value != 0;
}

// ---- elements ----

Value DesignReader::before(std::size_t element, Value start) const {
  return now_ == 0 ? start : values_[now_ - 1][element];
}

Value DesignReader::next(std::size_t element) {
  const dsl::ElementBody& any = design_.elements[element].body;
  if (const auto* body = std::get_if<dsl::ValueBody>(&any)) return value(body->value, now_);
  if (const auto* body = std::get_if<dsl::PulseBody>(&any)) return pulse(element, *body);
  if (const auto* body = std::get_if<dsl::DelayBody>(&any))
    return held(body->input, body->ticks, now_) ? 1 : 0;
  if (const auto* body = std::get_if<dsl::LingerBody>(&any)) {
    return recently(body->input, body->ticks, now_) ? 1 : 0;
  }
  if (const auto* body = std::get_if<dsl::LatchBody>(&any)) return latch(element, *body);
  if (const auto* body = std::get_if<dsl::CounterBody>(&any)) return counter(element, *body);
  if (const auto* body = std::get_if<dsl::KeepBody>(&any)) {
    return is_true(body->when, now_) ? value(body->value, now_) : before(element, body->start);
  }
  if (const auto* body = std::get_if<dsl::StagesBody>(&any)) return stage(element, *body);
  return received(element);
}

Value DesignReader::received(std::size_t element) const {
  const auto& carriage = design_.elements[element].carriage;
  const Value hand = hands_[now_][element];
  if (!carriage || values_[now_][carriage->link] == 0) return hand;
  return carriage->lost ? *carriage->lost : before(element, hand);
}

// Goes back over all edges: a pulse is on if one that counts began less than its time ago.
Value DesignReader::pulse(std::size_t, const dsl::PulseBody& body) const {
  Value left = 0;  // ticks that the pulse still has to be on, this one included
  for (std::size_t tick = 0; tick <= now_; ++tick) {
    left = std::max<Value>(0, left - 1);
    if (body.cancel && is_true(*body.cancel, tick)) {
      left = 0;
    } else if (rises(body.trigger, tick) && (body.restarting || left == 0)) {
      left = body.ticks;
    }
  }
  return left > 0 ? 1 : 0;
}

Value DesignReader::latch(std::size_t element, const dsl::LatchBody& body) const {
  const bool set = is_true(body.set, now_);
  const bool reset = is_true(body.reset, now_);
  if (set && reset) return body.set_wins ? 1 : 0;
  if (set || reset) return set ? 1 : 0;
  return before(element, body.starting_on ? 1 : 0);
}

Value DesignReader::counter(std::size_t element, const dsl::CounterBody& body) const {
  if (body.reset && is_true(*body.reset, now_)) return body.range.low;
  const bool up = rises(body.up, now_);
  const bool down = body.down && rises(*body.down, now_);
  const Value change = (up ? 1 : 0) - (down ? 1 : 0);
  return std::clamp(before(element, body.range.low) + change, body.range.low, body.range.high);
}

// The first line that applies; `after` counts from the tick in which the stage was entered.
Value DesignReader::stage(std::size_t element, const dsl::StagesBody& body) {
  const Value here = before(element, 0);
  for (const dsl::CheckedMove& move : body.moves) {
    const bool leads_on = !move.from || *move.from == here;
    const auto stayed = static_cast<Value>(now_ - stages_[element].entered);
    const bool long_enough = !move.after || stayed >= *move.after;
    if (!leads_on || !long_enough || (move.when && !is_true(*move.when, now_))) continue;
    if (move.to != here) stages_[element].entered = now_;  // an `any` line may only keep it where it is
    return move.to;
  }
  return here;
}

}  // namespace detent::test
