#include "dsl/fault_list.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <utility>

#include "dsl/alter_words.hpp"
#include "dsl/walk.hpp"

namespace detent::dsl {
namespace {

/// A share of a time, rounded up to whole ticks: to a tick at least.
Value share(Value ticks, Value millionths) {
  constexpr Value million = 1'000'000;
  return std::max<Value>(
      1, ticks / million * millionths + (ticks % million * millionths + million - 1) / million);
}

class FaultList {
 public:
  FaultList(const Design& design, const FaultOptions& options) : design_(design), options_(options) {}

  std::vector<Alteration> make() {
    const std::set<std::size_t> machine = machine_of_outputs(design_);
    for (index_ = 0; index_ < design_.elements.size(); ++index_) {
      if (!machine.contains(index_)) {
        continue;
      }
      if (is_input(element())) {
        add_input();
      } else {
        add_element();
      }
    }
    make_unique(list_);
    return std::move(list_);
  }

 private:
  [[nodiscard]] const Element& element() const { return design_.elements[index_]; }

  void add(AlterationKind kind, Value value, const std::string& words) {
    list_.push_back({.kind = kind,
                     .element = index_,
                     .value = value,
                     .name = fmt::format("{} {}", element().name, words),
                     .place = element().place});
  }

  // ---- inputs ----
  void add_input() {
    if (std::holds_alternative<LinkBody>(element().body)) {
      add(AlterationKind::loss_unnoticed, 0, "lost unnoticed");
      add(AlterationKind::keeps_last, 0, "keeps what came last");
      add(AlterationKind::always_lost, 0, "lost for good");
      return;
    }
    for (const Value value : stuck_values()) {
      const bool button = std::holds_alternative<ButtonBody>(element().body);
      add(AlterationKind::input_stuck, value,
          fmt::format("stuck {}{}", button ? "" : "at ", value_text(design_, element(), value)));
    }
    if (!std::holds_alternative<ChannelBody>(element().body)) {
      add(AlterationKind::bounces, options_.bounce_ticks,
          fmt::format("bounces for {}", time_text(options_.bounce_ticks, design_.tick_us)));
    }
  }

  [[nodiscard]] std::vector<Value> stuck_values() const {
    std::vector<Value> values;
    if (const auto* channel = std::get_if<ChannelBody>(&element().body)) {
      values = {channel->range.low, rest_of(*channel), channel->range.high};
    } else if (std::holds_alternative<SwitchBody>(element().body)) {
      for (std::size_t value = 0; value < element().positions.size(); ++value) {
        values.push_back(static_cast<Value>(value));
      }
    } else {
      values = {0, 1};
    }
    if (element().carriage && element().carriage->lost) {
      values.push_back(*element().carriage->lost);
    }
    std::sort(values.begin(), values.end());
    values.erase(std::unique(values.begin(), values.end()), values.end());
    return values;
  }

  static Value rest_of(const ChannelBody& channel) {
    const auto [low, high] = channel.range;
    const bool has_zero = low < 0 && high > 0 && -low % channel.step == 0;
    return has_zero ? 0 : low + (high - low) / channel.step / 2 * channel.step;
  }

  // ---- elements ----
  void add_element() {
    const bool stages = std::holds_alternative<StagesBody>(element().body);
    if (!element().hidden && (element().type.kind == SortKind::condition || stages)) {
      add_stuck(design_, index_, "stuck", list_);
    } else if (!element().hidden) {
      add_stuck_value();
    }
    add_times(
        design_, index_, [this](Value ticks) { return ticks - share(ticks, options_.tolerance); }, "too fast",
        list_);
    add_times(
        design_, index_, [this](Value ticks) { return ticks + share(ticks, options_.tolerance); }, "too slow",
        list_);
    if (const auto* latch = std::get_if<LatchBody>(&element().body)) {
      add(AlterationKind::other_start, 0, latch->starting_on ? "starts off" : "starts on");
    }
  }

  /// A level, or a position that is worked out from others.
  void add_stuck_value() {
    const auto* keep = std::get_if<KeepBody>(&element().body);
    const bool counts = std::holds_alternative<CounterBody>(element().body);
    if (keep == nullptr && !counts && !element().output) return;
    if (element().type.kind == SortKind::position) {
      add_stuck(design_, index_, "stuck", list_);
      return;
    }
    std::set<Value> values;
    if (const auto ends = options_.ends.find(element().name); ends != options_.ends.end()) {
      values = {ends->second.low, ends->second.high};
    }
    if (keep != nullptr) values.insert(keep->start);
    for (const Value value : values) {
      add(AlterationKind::stuck, value, fmt::format("stuck at {}", value_text(design_, element(), value)));
    }
  }

  const Design& design_;
  const FaultOptions& options_;
  std::size_t index_ = 0;
  std::vector<Alteration> list_;
};

}  // namespace

std::map<std::string, Range> ends_of_levels(const Model& model) {
  std::map<std::string, Range> ends;
  for (const Signal& signal : model.signals) {
    if (signal.role != SignalRole::hand && signal.sort.kind == SortKind::level) {
      ends.emplace(signal.name, model.circuit.node(signal.node).range);
    }
  }
  return ends;
}

std::vector<Alteration> list_faults(const Design& design, const FaultOptions& options) {
  return FaultList(design, options).make();
}

}  // namespace detent::dsl
