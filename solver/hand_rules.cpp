// Of a step at most one hand may move, in its tick or (a ramp) in the quiet ticks after it. Whoever moves
// something must have let `apart` ticks pass since the last movement; only a channel with a rate limit may go
// on at once.
#include "solver/hand_rules.hpp"

#include <z3++.h>

#include <utility>

namespace detent::solver {
namespace {

z3::expr number(z3::context& context, Value value) {
  return context.int_val(static_cast<std::int64_t>(value));
}

}  // namespace

HandRules::HandRules(z3::context& context, const Machine& machine, const HandManner& manner,
                     const OnTheWay* start)
    : context_(context), machine_(machine), manner_(manner) {
  // Power-up counts as a movement, so that the first one comes when people have had a look.
  calm_.push_back(number(context, start == nullptr ? 0 : start->calm));
  last_.push_back(number(context, start == nullptr ? -1 : static_cast<Value>(start->last_hand)));
}

std::vector<z3::expr> HandRules::next(const Step& step, const std::vector<z3::expr>& stood,
                                      const std::string& suffix) {
  std::vector<z3::expr> facts;
  const z3::expr calm = calm_.front();
  const z3::expr last = last_.front();
  const std::size_t count = step.inputs.size();
  std::vector<z3::expr> at_tick(count, context_.bool_val(false)), later(count, context_.bool_val(false));
  for (std::size_t input = 0; input < count && !stood.empty(); ++input) {
    const z3::expr moved = stood[input] != step.inputs[input];
    at_tick[input] = moved;
  }
  for (std::size_t ramp = 0; ramp < machine_.ramps.size(); ++ramp) {
    const std::size_t input = machine_.ramps[ramp].input;
    const z3::expr moved = step.moved[ramp] != step.inputs[input];
    later[input] = moved;
  }
  std::vector<std::pair<std::size_t, z3::expr>> moving;  // by hand
  z3::expr any_now = context_.bool_val(false);
  z3::expr any_later = any_now;
  z3::expr mover = last;
  for (std::size_t input = 0; input < count; ++input) {
    const z3::expr moves = at_tick[input] || later[input];
    if (manner_.steady[input]) {
      facts.push_back(!moves);
      continue;
    }
    const z3::expr hand = number(context_, static_cast<Value>(manner_.hand[input]));
    moving.emplace_back(manner_.hand[input], moves);
    const z3::expr patient = calm >= number(context_, manner_.apart);
    const z3::expr goes_on = last == hand && calm == 1;
    facts.push_back(z3::implies(moves, manner_.slow[input] ? patient || goes_on : patient));
    const z3::expr now = any_now || at_tick[input];
    any_now = now;
    const z3::expr then = any_later || later[input];
    any_later = then;
    const z3::expr who = z3::ite(moves, hand, mover);
    mover = who;
  }
  for (std::size_t one = 0; one < moving.size(); ++one) {
    for (std::size_t other = 0; other < one; ++other) {
      if (moving[one].first != moving[other].first)
        facts.push_back(!moving[one].second || !moving[other].second);
    }
  }
  const z3::expr next_calm = context_.int_const(("calm" + suffix).c_str());
  const z3::expr next_last = context_.int_const(("last" + suffix).c_str());
  const z3::expr since = z3::ite(any_now, number(context_, 0), calm) + 1 + step.quiet.front();
  facts.push_back(next_calm == z3::ite(any_later, number(context_, 1), since));
  facts.push_back(next_last == mover);
  calm_.front() = next_calm;
  last_.front() = next_last;
  return facts;
}

}  // namespace detent::solver
