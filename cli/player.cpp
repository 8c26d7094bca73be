#include "cli/player.hpp"

namespace detent::cli {

Player::Player(const dsl::Model& model)
    : clocks_(std::make_shared<const solver::Quiet>(model.circuit)), machine_(model.circuit) {}

const std::vector<Value>& Player::step(const std::vector<Value>& inputs) {
  ++tick_;
  return machine_.step(inputs);
}

Value Player::quiet(Value most) const {
  return most > 0 ? clocks_->ahead(machine_.values(), most) : 0;
}

void Player::pass(Value ticks) {
  if (ticks <= 0) return;
  machine_.skip(ticks);
  tick_ += ticks;
}

HandRun by_changes(const solver::Run& run) {
  HandRun hands{.rows = {}, .ticks = static_cast<Value>(run.ticks())};
  Value begin = 0;
  for (const solver::Rows::Stretch& stretch : run.inputs.stretches()) {
    hands.rows.push_back({begin, stretch.row});
    begin = static_cast<Value>(stretch.end);
  }
  return hands;
}

solver::Run as_run(const HandRun& hands) {
  solver::Run run;
  for (std::size_t index = 0; index < hands.rows.size(); ++index) {
    const Value end = index + 1 < hands.rows.size() ? hands.rows[index + 1].tick : hands.ticks;
    run.inputs.push_back(hands.rows[index].inputs, static_cast<std::size_t>(end - hands.rows[index].tick));
  }
  return run;
}

}  // namespace detent::cli
