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
  SortKind kind = SortKind::condition;  ///< which of the three it is
  std::string unit = {};                ///< level: "%", "us", …
  int decimals = 0;                     ///< level: its values are scaled by 10^decimals
  std::size_t owner = 0;                ///< position: the element that declared the positions
};

/// An expression over few operations; the checker spells all others in these. None of them makes the checker
/// copy an operand, so that a term is never larger than the text that it came from.
enum class TermOp {
  constant,    ///< value
  reference,   ///< the element's value, as the design sees it (after a link)
  hand,        ///< the input's value before any link
  lost,        ///< the link `element` is lost
  not_,        ///< not a
  and_,        ///< a and b and …
  or_,         ///< a or b or …
  equal,       ///< two conditions, two levels of one unit and decimals, or two positions
  less_equal,  ///< a <= b, levels
  add,         ///< a + b + …
  times,       ///< value * a
  choose,      ///< if a then b else c
  minimum,     ///< of two
  maximum,     ///< of two
  rises,       ///< of a condition
  absolute,    ///< of a level
  changes,     ///< of a level, a position or a condition
  hysteresis,  ///< on when a passes b, off when it passes c the other way; below if value = 1, else above
  previous,    ///< a one tick ago, `value` at tick 0
  held,        ///< a for `value` ticks
  recently,    ///< a at most `value` ticks ago
  since,       ///< b, or a and already so one tick ago; so at tick -1 if value = 1
};

/// One checked expression: its type is settled, its names are elements, its numbers scaled integers.
struct Term {
  TermOp op = TermOp::constant;     ///< which operation
  Type type = {};                   ///< of what it comes to
  Place place = {};                 ///< what was written
  Value value = 0;                  ///< a constant, factor, number of ticks or start: see TermOp
  std::size_t element = 0;          ///< reference, hand and lost: index into Design::elements
  std::vector<Term> operands = {};  ///< a, b, c of TermOp
};

/// A channel: levels in scaled integers.
struct ChannelBody {
  Range range;                              ///< lowest and highest
  Value step = 1;                           ///< the grid, from the lowest on
  std::optional<Value> most_per_tick = {};  ///< how far it may move in one tick; absent: at once
};
/// A switch: its positions are Element::positions.
struct SwitchBody {};
/// A button: 1 is pressed.
struct ButtonBody {};
/// A link: 1 is lost.
struct LinkBody {};
/// A signal or an output.
struct ValueBody {
  Term value;  ///< what it is in each tick
};
/// A pulse.
struct PulseBody {
  Term trigger;                     ///< starts it when it goes on
  Value ticks = 0;                  ///< its length
  bool restarting = false;          ///< a trigger during the pulse begins it anew
  std::optional<Term> cancel = {};  ///< off, and nothing starts it, while this is on
};
/// A delay.
struct DelayBody {
  Term input;       ///< a condition
  Value ticks = 0;  ///< how long it must have been on
};
/// A linger.
struct LingerBody {
  Term input;       ///< a condition
  Value ticks = 0;  ///< how long it goes on afterwards
};
/// A latch.
struct LatchBody {
  Term set;                  ///< a condition
  Term reset;                ///< a condition
  bool set_wins = false;     ///< where both are on; otherwise reset wins
  bool starting_on = false;  ///< at power-up
};
/// A counter; it starts at its lowest number.
struct CounterBody {
  Term up;                         ///< its rises count up
  std::optional<Term> down = {};   ///< its rises count down
  std::optional<Term> reset = {};  ///< lowest while this is on
  Range range;                     ///< lowest and highest; at an end it stays
};
/// A kept value.
struct KeepBody {
  Term value;       ///< what is taken over
  Term when;        ///< in the ticks in which this is on
  Value start = 0;  ///< what it is before
};
/// One line of a `stages`.
struct CheckedMove {
  std::optional<Value> from = {};   ///< stage index; absent: any, `to` itself included
  Value to = 0;                     ///< stage index
  std::optional<Value> after = {};  ///< ticks since the stage was entered
  std::optional<Term> when = {};    ///< a condition
  Place place = {};                 ///< the line
};
/// Stages: their names are Element::positions, the first is the one at power-up.
struct StagesBody {
  std::vector<CheckedMove> moves;  ///< of several that apply the first is taken
};

/// What an element is, by its kind.
using ElementBody = std::variant<ChannelBody, SwitchBody, ButtonBody, LinkBody, ValueBody, PulseBody,
                                 DelayBody, LingerBody, LatchBody, CounterBody, KeepBody, StagesBody>;

/// How a link treats one input that it carries.
struct Carriage {
  std::size_t link = 0;            ///< the link's element
  std::optional<Value> lost = {};  ///< value while lost; absent: as before
};

/// An input, or something that the design computes.
struct Element {
  std::string name;                         ///< with the names of the parts it stands in: "g.ok"
  std::string doc;                          ///< its sentence, or ""
  std::string keyword;                      ///< that declared it: "channel", "pulse", …
  Place place;                              ///< of the name
  Type type;                                ///< of its values
  std::vector<std::string> positions = {};  ///< switch positions, stages
  std::optional<Carriage> carriage = {};    ///< an input that a link carries
  bool output = false;                      ///< leaves the design
  bool hidden = false;              ///< an argument of a part in use: evaluated like a signal, not shown
  ElementBody body = SwitchBody{};  ///< the rest, by kind
};

/// A claim or an assumption.
struct CheckedClaim {
  std::string name;                    ///< as declared, with the names of the parts it stands in
  std::string doc;                     ///< its sentence, or ""
  Place place;                         ///< of the name
  Place body;                          ///< of what is claimed
  ClaimForm form = ClaimForm::always;  ///< says which of the rest are there
  Term first;                          ///< P of ClaimForm
  std::optional<Term> second = {};     ///< Q of ClaimForm
  std::optional<Value> ticks = {};     ///< T of ClaimForm
};

/// `at power_up: …`
struct PowerUpCondition {
  Place place;     ///< the declaration
  Term condition;  ///< true in tick 0
};

/// What counts as a change in tick 0 (`power_up edges …`).
enum class EdgeRule {
  counted,  ///< what is on counts as just risen, what is off as just fallen
  ignored,  ///< nothing
  either,   ///< both are tried
};

/// The whole of a checked design. Indices of elements count in `elements`.
struct Design {
  std::string title;                          ///< or ""
  std::int64_t tick_us = 0;                   ///< length of a tick, microseconds, > 0
  EdgeRule edges = EdgeRule::counted;         ///< at power-up
  std::vector<Element> elements;              ///< in the order of the text, parts put in
  std::vector<std::size_t> order;             ///< elements in the order in which they can be evaluated
  std::vector<CheckedClaim> claims;           ///< in the order of the text
  std::vector<CheckedClaim> assumptions;      ///< in the order of the text, of safety forms
  std::vector<PowerUpCondition> at_power_up;  ///< in the order of the text
  Value longest_time = 0;                     ///< the longest duration in it, ticks
};

}  // namespace detent::dsl
