// Each trial is given up at the first tick that breaks a constraint or brings the end too early; it is known
// to succeed as soon as the machine remembers what it remembered before and the inputs go on alike.
#include "solver/calm_run.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

#include "solver/verdict.hpp"

namespace detent::solver {
namespace {

/// Nodes evaluated in all: under half a second.
constexpr std::size_t effort = 60'000'000;

}  // namespace

CalmRun::CalmRun(const Setting& setting, NodeId watch, const Run& run)
    : setting_(&setting), watch_(watch), run_(run), quiet_(*setting.circuit) {
  if (!replay(run, {0, run.ticks()})) {
    throw InternalDisagreement{"a run that was found does not do on the interpreter what it was found for"};
  }
}

std::vector<Stretch> CalmRun::stretches_of(std::size_t input) const {
  std::vector<Stretch> stretches;
  for (const Rows::Stretch& next : run_.inputs.stretches()) {
    const std::size_t begin = stretches.empty() ? 0 : stretches.back().end;
    if (begin == 0 || next.row[input] != at(begin - 1, input)) stretches.push_back({begin, begin});
    stretches.back().end = next.end;
  }
  return stretches;
}

std::vector<std::size_t> CalmRun::changes() const {
  std::vector<std::size_t> ticks;
  for (const Rows::Stretch& stretch : run_.inputs.stretches()) {
    if (stretch.end < run_.ticks()) ticks.push_back(stretch.end);
  }
  return ticks;
}

bool CalmRun::try_value(std::size_t input, const Stretch& stretch, Value value) {
  if (is_constant(input, stretch, value)) return true;
  if (evaluated_ >= effort) return false;
  Run changed = run_;
  changed.inputs.set(stretch.begin, stretch.end, input, value);
  if (!replay(changed, stretch)) return false;
  run_ = std::move(changed);
  return true;
}

bool CalmRun::is_constant(std::size_t input, const Stretch& stretch, Value value) const {
  for (std::size_t tick = stretch.begin; tick < stretch.end;) {
    if (at(tick, input) != value) return false;
    tick = run_.inputs.end_of(tick);
  }
  return true;
}

bool CalmRun::replay(const Run& changed, const Stretch& stretch) {
  Interpreter machine = machine_before(stretch.begin);
  Moments moments;
  std::size_t tick = stretch.begin;
  while (tick < ticks()) {
    machine.step(changed.inputs[tick]);
    evaluated_ += machine.values().size();
    if (!is_allowed(machine.values(), tick)) return false;
    moments.push_back({tick, machine});
    const std::size_t next = tick + 1;
    if (next >= stretch.end && next < ticks() && remembers_as_before(machine, tick)) break;
    // The last tick is always played: it is the one that the run is about.
    const std::size_t limit = std::min(changed.inputs.end_of(tick), ticks() - 1);
    const Value ahead = limit > next ? quiet_.ahead(machine.values(), static_cast<Value>(limit - next)) : 0;
    machine.skip(ahead);
    tick = next + static_cast<std::size_t>(ahead);
  }
  keep(std::move(moments), stretch.begin, tick);
  return true;
}

/// After the tick before this one.
Interpreter CalmRun::machine_before(std::size_t tick) const {
  if (tick == 0) return Interpreter(*setting_->circuit);
  const auto moment = moment_of(tick - 1);
  Interpreter machine = moment->machine;
  machine.skip(static_cast<Value>(tick - 1 - moment->tick));
  return machine;
}

CalmRun::Moments::const_iterator CalmRun::moment_of(std::size_t tick) const {
  return std::prev(std::upper_bound(moments_.begin(), moments_.end(), tick,
                                    [](std::size_t wanted, const Moment& one) { return wanted < one.tick; }));
}

bool CalmRun::remembers_as_before(const Interpreter& machine, std::size_t tick) const {
  if (moments_.empty()) return false;
  const auto moment = moment_of(tick);
  if (moment->tick == tick) return machine.remembers_as(moment->machine);
  Interpreter before = moment->machine;
  before.skip(static_cast<Value>(tick - moment->tick));
  return machine.remembers_as(before);
}

/// These moments instead of those in the ticks [begin, end].
void CalmRun::keep(Moments moments, std::size_t begin, std::size_t end) {
  const auto is_before = [](const Moment& one, std::size_t wanted) { return one.tick < wanted; };
  const auto first = std::lower_bound(moments_.begin(), moments_.end(), begin, is_before);
  const auto last = std::lower_bound(moments_.begin(), moments_.end(), end + 1, is_before);
  const auto place = moments_.erase(first, last);
  moments_.insert(place, std::make_move_iterator(moments.begin()), std::make_move_iterator(moments.end()));
}

bool CalmRun::is_allowed(const std::vector<Value>& values, std::size_t tick) const {
  if ((values[watch_] != 0) != (tick + 1 == ticks())) return false;
  return std::all_of(setting_->constraints.begin(), setting_->constraints.end(),
                     [&values](NodeId node) { return values[node] != 0; });
}

}  // namespace detent::solver
