// The checked design: every name resolved, every type and unit settled, parts put in, constants worked out to
// ticks and scaled integers. What stands here is free of mistakes, so that lowering cannot fail.
// The compiled form is dsl/circuit.hpp.
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "dsl/circuit.hpp"
#include "dsl/model.hpp"
#include "dsl/source.hpp"
#include "dsl/tree.hpp"

namespace detent::dsl {

/// The type of an expression. A level with unit "" is a plain number (a count).
/// Two position types are the same if they have the same owner.
struct Type {
  SortKind kind = SortKind::condition;
  std::string unit = {};
  int decimals = 0;
  std::size_t owner = 0;  ///< position: the element that declared the positions
};

/// An expression over few operations; the checker spells all others in these. None of them makes the checker
/// copy an operand, so that a term is never larger than the text that it came from.
enum class TermOp {
  constant,   ///< value
  reference,  ///< the element's value, as the design sees it (after a link)
  hand,       ///< the input's value before any link
  lost,       ///< the link `element` is lost
  not_,
  and_,
  or_,
  equal,  ///< two conditions, two levels of one unit and decimals, or two positions
  less_equal,
  add,
  times,    ///< value * a
  choose,   ///< if a then b else c
  minimum,  ///< of two
  maximum,
  rises,  ///< of a condition
  absolute,
  changes,     ///< of a level, a position or a condition
  hysteresis,  ///< on when a passes b, off when it passes c the other way; below if value = 1, else above
  previous,    ///< a one tick ago, `value` at tick 0
  held,        ///< a for `value` ticks
  recently,    ///< a at most `value` ticks ago
  since,       ///< b, or a and already so one tick ago; so at tick -1 if value = 1
};

struct Term {
  TermOp op = TermOp::constant;
  Type type = {};
  Place place = {};
  Value value = 0;
  std::size_t element = 0;
  std::vector<Term> operands = {};
};

struct ChannelBody {
  Range range;
  Value step = 1;
  std::optional<Value> most_per_tick = {};
};
struct SwitchBody {};
struct ButtonBody {};
struct LinkBody {};
struct ValueBody {  ///< signal and output
  Term value;
};
struct PulseBody {
  Term trigger;
  Value ticks = 0;
  bool restarting = false;
  std::optional<Term> cancel = {};
};
struct DelayBody {
  Term input;
  Value ticks = 0;
};
struct LingerBody {
  Term input;
  Value ticks = 0;
};
struct LatchBody {
  Term set, reset;
  bool set_wins = false;
  bool starting_on = false;
};
struct CounterBody {
  Term up;
  std::optional<Term> down = {}, reset = {};
  Range range;
};
struct KeepBody {
  Term value, when;
  Value start = 0;
};
struct CheckedMove {
  std::optional<Value> from = {};  ///< stage index; absent: any, `to` itself included
  Value to = 0;
  std::optional<Value> after = {};
  std::optional<Term> when = {};
  Place place = {};
};
struct StagesBody {
  std::vector<CheckedMove> moves;
};

using ElementBody = std::variant<ChannelBody, SwitchBody, ButtonBody, LinkBody, ValueBody, PulseBody,
                                 DelayBody, LingerBody, LatchBody, CounterBody, KeepBody, StagesBody>;

/// How a link treats one input that it carries.
struct Carriage {
  std::size_t link = 0;            ///< the link's element
  std::optional<Value> lost = {};  ///< value while lost; absent: as before
};

struct Element {
  std::string name;  ///< with the names of the parts it stands in: "g.ok"
  std::string doc;
  std::string keyword;
  Place place;  ///< of the name
  Type type;
  std::vector<std::string> positions = {};  ///< switch positions, stages
  std::optional<Carriage> carriage = {};
  bool output = false;
  bool hidden = false;  ///< an argument of a part in use: evaluated like a signal, not shown
  ElementBody body = SwitchBody{};
};

struct CheckedClaim {
  std::string name;
  std::string doc;
  Place place;  ///< of the name
  Place body;   ///< of what is claimed
  ClaimForm form = ClaimForm::always;
  Term first;
  std::optional<Term> second = {};
  std::optional<Value> ticks = {};
};

struct PowerUpCondition {
  Place place;
  Term condition;
};

enum class EdgeRule { counted, ignored, either };

struct Design {
  std::string title;
  std::int64_t tick_us = 0;
  EdgeRule edges = EdgeRule::counted;
  std::vector<Element> elements;
  std::vector<std::size_t> order;  ///< elements in the order in which they can be evaluated
  std::vector<CheckedClaim> claims;
  std::vector<CheckedClaim> assumptions;
  std::vector<PowerUpCondition> at_power_up;
  Value longest_time = 0;
};

}  // namespace detent::dsl
