#include "cli/player.hpp"

namespace detent::cli {

Player::Player(const dsl::Model& model)
    : clocks_(std::make_shared<const solver::Machine>(solver::whole_machine(model.circuit))),
      machine_(model.circuit) {}

const std::vector<Value>& Player::step(const std::vector<Value>& inputs) {
  ++tick_;
  return machine_.step(inputs);
}

Value Player::quiet(Value most) const {
  return most > 0 ? solver::quiet_ahead(*clocks_, machine_.values(), most) : 0;
}

void Player::pass(Value ticks) {
  if (ticks <= 0) return;
  machine_.skip(ticks);
  tick_ += ticks;
}

HandRun by_changes(const solver::Run& run) {
  HandRun hands{.rows = {}, .ticks = static_cast<Value>(run.ticks())};
  for (std::size_t tick = 0; tick < run.ticks(); ++tick) {
    if (hands.rows.empty() || hands.rows.back().inputs != run.inputs[tick]) {
      hands.rows.push_back({static_cast<Value>(tick), run.inputs[tick]});
    }
  }
  return hands;
}

}  // namespace detent::cli
