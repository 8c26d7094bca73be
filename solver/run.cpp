#include "solver/run.hpp"

#include <algorithm>
#include <utility>

namespace detent::solver {

Rows::Rows(std::initializer_list<Row> rows) {
  for (const Row& row : rows) push_back(row);
}

Rows::Rows(const std::vector<Row>& rows) {
  for (const Row& row : rows) push_back(row);
}

std::vector<Rows::Stretch>::const_iterator Rows::find(std::size_t tick) const {
  return std::upper_bound(stretches_.begin(), stretches_.end(), tick,
                          [](std::size_t wanted, const Stretch& stretch) { return wanted < stretch.end; });
}

void Rows::push_back(const Row& row, std::size_t ticks) {
  if (ticks == 0) return;
  const std::size_t end = size() + ticks;
  if (!stretches_.empty() && stretches_.back().row == row) {
    stretches_.back().end = end;
  } else {
    stretches_.push_back({row, end});
  }
}

void Rows::extend_to(std::size_t ticks) {
  if (ticks > size()) stretches_.back().end = ticks;
}

void Rows::cut(std::size_t ticks) {
  while (!stretches_.empty() && size() > ticks) {
    const std::size_t before = stretches_.size() < 2 ? 0 : stretches_[stretches_.size() - 2].end;
    if (before < ticks) {
      stretches_.back().end = ticks;
    } else {
      stretches_.pop_back();
    }
  }
}

void Rows::set(std::size_t begin, std::size_t end, std::size_t input, Value value) {
  const std::vector<Stretch> old = std::exchange(stretches_, {});
  for (const Stretch& stretch : old) {
    const auto until = [&](std::size_t tick) {
      const std::size_t stop = std::min(tick, stretch.end);
      return stop > size() ? stop - size() : 0;
    };
    push_back(stretch.row, until(begin));
    Row changed = stretch.row;
    changed[input] = value;
    push_back(changed, until(end));
    push_back(stretch.row, until(stretch.end));
  }
}

Trace::Trace(const dsl::Circuit& circuit, std::vector<Moment> moments, std::size_t ticks)
    : moments_(std::move(moments)), ticks_(ticks) {
  clocks_.reserve(circuit.nodes().size());
  for (const dsl::Node& node : circuit.nodes()) {
    clocks_.push_back(node.kind == dsl::NodeKind::age ? Clock{node.a, node.cap} : Clock{});
  }
}

std::size_t Trace::moment_of(std::size_t tick) const {
  const auto after =
      std::upper_bound(moments_.begin(), moments_.end(), tick,
                       [](std::size_t wanted, const Moment& moment) { return wanted < moment.tick; });
  return static_cast<std::size_t>(after - moments_.begin()) - 1;
}

Value Trace::at(std::size_t tick, NodeId node) const {
  const Moment& moment = moments_[moment_of(tick)];
  const Value value = moment.values[node];
  const Clock& clock = clocks_[node];
  if (clock.event == dsl::no_node || moment.values[clock.event] != 0) return value;
  return std::min(value + static_cast<Value>(tick - moment.tick), clock.cap);
}

std::size_t Trace::since(std::size_t tick, NodeId node) const {
  std::size_t index = moment_of(tick);
  const Value value = moments_[index].values[node];
  while (index > 0 && moments_[index - 1].values[node] == value) --index;
  return moments_[index].tick;
}

}  // namespace detent::solver
