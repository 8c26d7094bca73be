// Each element in terms of gates and the two nodes that remember.
//
//   pulse    age(start) < T, where start is an edge of the trigger outside the pulse (any edge: restarting)
//   delay    x and age(not x) > T
//   linger   age(x) <= T
//   latch    not reset and (set or previous), or set or (not reset and previous)
//   counter, keep, stages   choices over one previous
// The forms of pulse, delay and linger are those of the timers TP, TON, TOF of IEC 61131-3 (timing diagrams
// of its standard function blocks, as reproduced in secondary sources).
#include "dsl/lower_elements.hpp"

#include <fmt/format.h>

#include <map>
#include <string>
#include <utility>

#include "dsl/text.hpp"

namespace detent::dsl {
namespace {

class ElementLowering {
 public:
  ElementLowering(const Design& design, const Sources& sources, TermBuilder& terms, Model& model)
      : design_(design), sources_(sources), terms_(terms), model_(model), circuit_(model.circuit) {}

  void lower(std::size_t index) {
    const Element& element = design_.elements[index];
    const NodeId node =
        std::visit([&](const auto& body) { return this->node_of(element, body); }, element.body);
    terms_.meanings[index].hand = node;
    terms_.meanings[index].node = element.carriage ? received(element, node) : node;
  }

 private:
  // ---- inputs ----
  NodeId node_of(const Element& element, const ChannelBody& body) {
    const NodeId hand =
        circuit_.input({.name = element.name, .condition = false, .range = body.range, .step = body.step});
    if (body.most_per_tick) {
      limit_rate(element, hand, *body.most_per_tick, body.range.low);
    }
    return hand;
  }
  NodeId node_of(const Element& element, const SwitchBody&) {
    const auto last = static_cast<Value>(element.positions.size()) - 1;
    return circuit_.input({.name = element.name, .condition = false, .range = {0, last}, .step = 1});
  }
  NodeId node_of(const Element& element, const ButtonBody&) { return condition_input(element); }
  NodeId node_of(const Element& element, const LinkBody&) { return condition_input(element); }

  NodeId condition_input(const Element& element) {
    return circuit_.input({.name = element.name, .condition = true, .range = {0, 1}, .step = 1});
  }

  void limit_rate(const Element& element, NodeId hand, Value most, Value start) {
    const NodeId before = circuit_.previous(hand, start);
    const NodeId moved = circuit_.add(hand, circuit_.times(-1, before));
    const NodeId up = circuit_.less_equal(moved, circuit_.constant(most));
    const NodeId down = circuit_.less_equal(circuit_.constant(-most), moved);
    model_.constraints.push_back({.name = element.name + " moves no faster than it can",
                                  .doc = "",
                                  .place = element.place,
                                  .node = circuit_.or_(circuit_.first_tick(), circuit_.and_(up, down)),
                                  .rate = Constraint::RateLimit{hand, before, most}});
  }

  // What arrives over a link. `as before` has nothing before at tick 0: then anything the hand can do is
  // possible, which is the careful reading of a receiver that holds its last value.
  NodeId received(const Element& element, NodeId hand) {
    const NodeId lost = terms_.meanings[element.carriage->link].node;
    const bool condition = element.type.kind == SortKind::condition;
    if (const auto value = element.carriage->lost) {
      const NodeId fixed = condition ? circuit_.truth(*value != 0) : circuit_.constant(*value);
      return circuit_.choose(lost, fixed, hand);
    }
    const NodeId before = circuit_.open_previous(condition, 0);
    const NodeId stale = circuit_.and_(lost, circuit_.not_(circuit_.first_tick()));
    const NodeId now = circuit_.choose(stale, before, hand);
    circuit_.connect(before, now);
    return now;
  }

  // ---- gates and clocks ----
  NodeId node_of(const Element&, const ValueBody& body) { return terms_.build(body.value); }

  NodeId node_of(const Element&, const PulseBody& body) {
    const NodeId edge = terms_.rises(terms_.build(body.trigger));
    if (body.cancel) {
      return cancelled_pulse(edge, terms_.build(*body.cancel), body);
    }
    if (body.restarting || body.ticks == 1) {
      return circuit_.age_at_most(circuit_.age(edge, false), body.ticks - 1);
    }
    const NodeId going_on = circuit_.open_previous(true, 0);
    const NodeId clock = circuit_.age(circuit_.and_(edge, circuit_.not_(going_on)), false);
    circuit_.connect(going_on, circuit_.age_at_most(clock, body.ticks - 2));
    return circuit_.age_at_most(clock, body.ticks - 1);
  }

  // While the cancelling condition is true the pulse is off and no edge starts it.
  NodeId cancelled_pulse(NodeId edge, NodeId cancel, const PulseBody& body) {
    const NodeId allowed = circuit_.not_(cancel);
    const NodeId was_on = circuit_.open_previous(true, 0);
    const NodeId time_left = circuit_.open_previous(true, 0);
    const NodeId going_on = circuit_.and_(circuit_.and_(was_on, time_left), allowed);
    const NodeId free = body.restarting ? circuit_.truth(true) : circuit_.not_(going_on);
    const NodeId start = circuit_.and_(circuit_.and_(edge, allowed), free);
    const NodeId clock = circuit_.age(start, false);
    const NodeId now = circuit_.or_(start, going_on);
    circuit_.connect(was_on, now);
    circuit_.connect(time_left,
                     body.ticks < 2 ? circuit_.truth(false) : circuit_.age_at_most(clock, body.ticks - 2));
    return now;
  }

  NodeId node_of(const Element&, const DelayBody& body) {
    return terms_.held(terms_.build(body.input), body.ticks);
  }
  NodeId node_of(const Element&, const LingerBody& body) {
    return terms_.recently(terms_.build(body.input), body.ticks);
  }

  // ---- memories ----
  NodeId node_of(const Element&, const LatchBody& body) {
    const NodeId set = terms_.build(body.set);
    return terms_.latch(set, terms_.build(body.reset), body.set_wins, body.starting_on);
  }

  NodeId node_of(const Element&, const CounterBody& body) {
    const NodeId no = circuit_.truth(false);
    const NodeId up = terms_.rises(terms_.build(body.up));
    const NodeId down = body.down ? terms_.rises(terms_.build(*body.down)) : no;
    const NodeId reset = body.reset ? terms_.build(*body.reset) : no;
    const NodeId low = circuit_.constant(body.range.low);
    const NodeId high = circuit_.constant(body.range.high);
    const NodeId before = circuit_.open_previous(false, body.range.low);
    const NodeId more = terms_.minimum(circuit_.add(before, circuit_.constant(1)), high);
    const NodeId less = terms_.maximum(circuit_.add(before, circuit_.constant(-1)), low);
    const NodeId fallen = circuit_.choose(circuit_.and_(down, circuit_.not_(up)), less, before);
    const NodeId counted = circuit_.choose(circuit_.and_(up, circuit_.not_(down)), more, fallen);
    const NodeId now = circuit_.choose(reset, low, counted);
    circuit_.connect(before, now);
    return now;
  }

  NodeId node_of(const Element& element, const KeepBody& body) {
    const NodeId value = terms_.build(body.value);
    const NodeId when = terms_.build(body.when);
    const NodeId before = circuit_.open_previous(element.type.kind == SortKind::condition, body.start);
    const NodeId now = circuit_.choose(when, value, before);
    circuit_.connect(before, now);
    return now;
  }

  // ---- stages ----
  NodeId node_of(const Element& element, const StagesBody& body) {
    const NodeId before = circuit_.open_previous(false, 0);
    std::map<std::pair<Value, Value>, NodeId> times;  // (stage, ticks) -> "was there for so long"
    std::vector<NodeId> applies;
    for (const CheckedMove& move : body.moves) {
      applies.push_back(move_applies(move, before, times));
    }
    NodeId now = before;
    for (std::size_t index = body.moves.size(); index-- > 0;) {
      now = circuit_.choose(applies[index], circuit_.constant(body.moves[index].to), now);
    }
    circuit_.connect(before, now);
    for (const auto& [key, open] : times) {
      const NodeId elsewhere = circuit_.not_(circuit_.equal(now, circuit_.constant(key.first)));
      const NodeId clock = circuit_.age(elsewhere, true);
      circuit_.connect(open, circuit_.not_(circuit_.age_at_most(clock, key.second - 1)));
    }
    find_overlaps(element, body, applies);
    return now;
  }

  NodeId move_applies(const CheckedMove& move, NodeId before,
                      std::map<std::pair<Value, Value>, NodeId>& times) {
    // An `any` line applies in the stage that it leads to as well, and then keeps it there: with the guard at safe,
    // no line below `any -> locked when guard is safe` can leave `locked`.
    NodeId applies = move.from ? circuit_.equal(before, circuit_.constant(*move.from)) : circuit_.truth(true);
    if (move.after) {
      const auto [entry, is_new] = times.try_emplace({*move.from, *move.after}, no_node);
      if (is_new) {
        entry->second = circuit_.open_previous(true, 0);
      }
      applies = circuit_.and_(applies, entry->second);
    }
    return move.when ? circuit_.and_(applies, terms_.build(*move.when)) : applies;
  }

  // An `any` line that stands before the others is meant to win; one that stands behind them gives way.
  void find_overlaps(const Element& element, const StagesBody& body, const std::vector<NodeId>& applies) {
    for (std::size_t later = 1; later < body.moves.size(); ++later) {
      for (std::size_t earlier = 0; earlier < later; ++earlier) {
        const CheckedMove& first = body.moves[earlier];
        const CheckedMove& second = body.moves[later];
        const NodeId both = circuit_.and_(applies[earlier], applies[later]);
        if (first.to == second.to || !first.from || circuit_.is_constant(both) ||
            (second.from && *first.from != *second.from)) {
          continue;
        }
        model_.overlaps.push_back({.stages = element.name,
                                   .first = first.place,
                                   .second = second.place,
                                   .first_text = one_line(sources_.text(first.place)),
                                   .second_text = one_line(sources_.text(second.place)),
                                   .both = both});
      }
    }
  }

  const Design& design_;
  const Sources& sources_;
  TermBuilder& terms_;
  Model& model_;
  Circuit& circuit_;
};

}  // namespace

void lower_elements(const Design& design, const Sources& sources, TermBuilder& terms, Model& model) {
  ElementLowering lowering(design, sources, terms, model);
  for (const std::size_t index : design.order) {
    lowering.lower(index);
  }
  terms.connect_loops();
}

}  // namespace detent::dsl
