// Each trial is given up at the first tick that breaks a constraint or brings the end too early; it is known
// to succeed as soon as the machine remembers what it remembered before and the inputs go on alike.
#include "solver/calm_run.hpp"

#include <algorithm>
#include <utility>

namespace detent::solver {
namespace {

/// Nodes evaluated in all: under half a second.
constexpr std::size_t effort = 60'000'000;

}  // namespace

CalmRun::CalmRun(const Setting& setting, NodeId watch, const Run& run)
    : setting_(&setting), watch_(watch), run_(run) {
  Interpreter machine(*setting.circuit);
  for (const std::vector<Value>& row : run.inputs) {
    machine.step(row);
    machines_.push_back(machine);
  }
}

std::vector<Stretch> CalmRun::stretches_of(std::size_t input) const {
  std::vector<Stretch> stretches;
  for (std::size_t tick = 0; tick < ticks(); ++tick) {
    if (tick == 0 || at(tick, input) != at(tick - 1, input)) stretches.push_back({tick, tick});
    stretches.back().end = tick + 1;
  }
  return stretches;
}

bool CalmRun::try_value(std::size_t input, const Stretch& stretch, Value value) {
  if (is_constant(input, stretch, value)) return true;
  if (evaluated_ >= effort) return false;
  std::vector<Value> before;
  for (std::size_t tick = stretch.begin; tick < stretch.end; ++tick) {
    before.push_back(std::exchange(run_.inputs[tick][input], value));
  }
  if (replay_from(stretch)) return true;
  for (std::size_t tick = stretch.begin; tick < stretch.end; ++tick) {
    run_.inputs[tick][input] = before[tick - stretch.begin];
  }
  return false;
}

bool CalmRun::is_constant(std::size_t input, const Stretch& stretch, Value value) const {
  for (std::size_t tick = stretch.begin; tick < stretch.end; ++tick) {
    if (at(tick, input) != value) return false;
  }
  return true;
}

bool CalmRun::replay_from(const Stretch& stretch) {
  Interpreter machine = stretch.begin == 0 ? Interpreter(*setting_->circuit) : machines_[stretch.begin - 1];
  std::vector<Interpreter> machines;
  for (std::size_t tick = stretch.begin; tick < ticks(); ++tick) {
    machine.step(run_.inputs[tick]);
    evaluated_ += machine.values().size();
    if (!is_allowed(machine.values(), tick)) return false;
    machines.push_back(machine);
    if (tick + 1 >= stretch.end && tick + 1 < ticks() && machine.remembers_as(machines_[tick])) break;
  }
  const auto begin = static_cast<std::ptrdiff_t>(stretch.begin);
  std::move(machines.begin(), machines.end(), machines_.begin() + begin);
  return true;
}

bool CalmRun::is_allowed(const std::vector<Value>& values, std::size_t tick) const {
  if ((values[watch_] != 0) != (tick + 1 == ticks())) return false;
  return std::all_of(setting_->constraints.begin(), setting_->constraints.end(),
                     [&values](NodeId node) { return values[node] != 0; });
}

}  // namespace detent::solver
