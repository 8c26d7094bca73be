#include "dsl/slip_list.hpp"

#include <fmt/format.h>

#include <cstdlib>
#include <numeric>
#include <set>
#include <string_view>
#include <utility>

#include "dsl/alter_words.hpp"
#include "dsl/walk.hpp"

namespace detent::dsl {
namespace {

/// The distance between the values that a level can have, as far as channels' steps tell; 0 for a constant.
class Grid {
 public:
  explicit Grid(const Design& design) : design_(design) {}

  Value of(const Term& term) {
    switch (term.op) {
      case TermOp::constant:
        return 0;
      case TermOp::reference:
      case TermOp::hand:
        return of_element(term.element);
      case TermOp::times:
        return std::abs(term.value) * of(term.operands[0]);
      default:
        return of_operands(term);
    }
  }

 private:
  Value of_operands(const Term& term) {
    Value common = 0;
    for (const Term& operand : term.operands) {
      if (operand.type.kind == SortKind::level) {
        common = std::gcd(common, of(operand));
      }
    }
    return common;
  }

  Value of_element(std::size_t index) {
    const Element& element = design_.elements[index];
    if (const auto* channel = std::get_if<ChannelBody>(&element.body)) {
      return channel->step;
    }
    if (!looked_at_.insert(index).second) {
      return 0;
    }
    if (const auto* value = std::get_if<ValueBody>(&element.body)) {
      return of(value->value);
    }
    const auto* keep = std::get_if<KeepBody>(&element.body);
    return keep != nullptr ? of(keep->value) : 1;
  }

  const Design& design_;
  std::set<std::size_t> looked_at_;
};

/// What is written, on one line and not too long.
std::string shortened(std::string_view text) {
  constexpr std::size_t most = 60;
  std::string line;
  for (const char one : text) {
    const bool blank = one == ' ' || one == '\n' || one == '\r' || one == '\t';
    if (!blank) line += one;
    if (blank && !line.empty() && line.back() != ' ') line += ' ';
  }
  if (line.size() <= most) return line;
  std::size_t end = most;
  while (end > 0 && (static_cast<unsigned char>(line[end]) & 0xC0U) == 0x80U) --end;  // no half characters
  return line.substr(0, end) + "...";
}

class SlipList {
 public:
  SlipList(const Design& design, const Sources& sources) : design_(design), sources_(sources) {}

  std::vector<Alteration> make() {
    for (index_ = 0; index_ < design_.elements.size(); ++index_) {
      if (!is_input(element())) {
        add_element();
      }
    }
    make_unique(list_);
    return std::move(list_);
  }

 private:
  [[nodiscard]] const Element& element() const { return design_.elements[index_]; }

  void add(AlterationKind kind, const Place& place, const std::string& words, std::size_t part = 0,
           Value value = 0) {
    list_.push_back({.kind = kind,
                     .element = index_,
                     .part = part,
                     .value = value,
                     .name = fmt::format("{} {}", element().name, words),
                     .place = place});
  }

  void add_element() {
    if (!element().hidden) {
      add_whole();
    }
    add_conditions();
    add_thresholds();
    add_times(
        design_, index_, [](Value ticks) { return ticks + 1; }, "a tick longer", list_);
    add_times(
        design_, index_, [](Value ticks) { return ticks - 1; }, "a tick shorter", list_);
    if (const auto* latch = std::get_if<LatchBody>(&element().body)) {
      add(AlterationKind::other_winner, element().place, latch->set_wins ? "lets reset win" : "lets set win");
      add(AlterationKind::other_start, element().place, latch->starting_on ? "starts off" : "starts on");
    }
    if (const auto* stages = std::get_if<StagesBody>(&element().body)) {
      add_lines(*stages);
    }
  }

  void add_whole() {
    const bool stages = std::holds_alternative<StagesBody>(element().body);
    if (element().type.kind == SortKind::condition || stages) {
      add_stuck(design_, index_, "always", list_);
    }
    const auto* value = std::get_if<ValueBody>(&element().body);
    if (element().type.kind == SortKind::condition) {
      add(AlterationKind::inverted, element().place, "inverted");
    } else if (value != nullptr && value->value.op == TermOp::choose) {
      add(AlterationKind::inverted, element().place, "with its choice the other way round");
    } else if (const auto* counter = std::get_if<CounterBody>(&element().body)) {
      add_standstill(counter->range.low);
    } else if (const auto* keep = std::get_if<KeepBody>(&element().body)) {
      add_standstill(keep->start);
    }
  }

  void add_standstill(Value value) {
    add(AlterationKind::stuck, element().place,
        fmt::format("always {}", value_text(design_, element(), value)), 0, value);
  }

  void add_lines(const StagesBody& stages) {
    for (std::size_t line = 0; line < stages.moves.size(); ++line) {
      const CheckedMove& move = stages.moves[line];
      const std::string from = move.from ? value_text(design_, element(), *move.from) : "any";
      add(AlterationKind::line_left_out, move.place,
          fmt::format("without its line {} -> {}", from, value_text(design_, element(), move.to)), line);
    }
  }

  void add_thresholds() {
    Element copy = element();
    const std::vector<Threshold> thresholds = thresholds_of(copy.body);
    for (std::size_t part = 0; part < thresholds.size(); ++part) {
      const Term& constant = *thresholds[part].constant;
      const Value grid = Grid(design_).of(*thresholds[part].compared);
      const Value step = grid == 0 ? 1 : grid;
      for (const Value moved : {constant.value + step, constant.value - step}) {
        if (moved < thresholds[part].allowed.low || moved > thresholds[part].allowed.high) {
          continue;
        }
        add(AlterationKind::threshold, constant.place,
            fmt::format("with {} for {}", level_text(constant.type, moved),
                        level_text(constant.type, constant.value)),
            part, moved);
      }
    }
  }

  void add_conditions() {
    using Role = WrittenCondition::Role;
    Element copy = element();
    const std::vector<WrittenCondition> conditions = conditions_of(copy.body);
    for (std::size_t part = 0; part < conditions.size(); ++part) {
      const auto& [term, role, neutral] = conditions[part];
      const std::string text = shortened(sources_.text(term->place));
      if (role == Role::side) {
        add(AlterationKind::condition, term->place, fmt::format("with '{}' left out", text), part, neutral);
        continue;
      }
      add(AlterationKind::condition, term->place, fmt::format("with '{}' always on", text), part, 1);
      // A line of stages that is never taken is looked at as one that is left out.
      if (role != Role::move) {
        add(AlterationKind::condition, term->place, fmt::format("with '{}' always off", text), part, 0);
      }
    }
  }

  const Design& design_;
  const Sources& sources_;
  std::size_t index_ = 0;
  std::vector<Alteration> list_;
};

}  // namespace

std::vector<Alteration> list_slips(const Design& design, const Sources& sources) {
  return SlipList(design, sources).make();
}

}  // namespace detent::dsl
