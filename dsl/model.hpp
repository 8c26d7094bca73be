// The model: a circuit together with what its nodes are called, what is assumed and what is claimed.
// It is all that the engines and the pages need; it knows nothing of how it was written, except for places
// and sentences to show.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "dsl/circuit.hpp"
#include "dsl/source.hpp"
#include "dsl/tree.hpp"

namespace detent::dsl {

/// How the values of a named thing are said to a person.
enum class SortKind {
  condition,  ///< on / off (a button: pressed / released; a link: lost / there)
  level,      ///< a number with unit and decimals: value 1250 with 1 decimal and "%" is 125.0 %
  position,   ///< one of `positions`, by index: switch positions and stages
};
/// A kind of values, with what is needed to say one.
struct Sort {
  SortKind kind = SortKind::condition;      ///< which of the three it is
  std::string unit = {};                    ///< level: "%", "us", …; "" for a count
  int decimals = 0;                         ///< level: value / 10^decimals
  std::vector<std::string> positions = {};  ///< position: all of them; condition: {word for 0, word for 1}
};

/// A value in words: "-98.5 %", "run", "pressed", "on".
[[nodiscard]] std::string to_text(Value value, const Sort& sort);

/// Where the values of a signal come from.
enum class SignalRole {
  hand,     ///< a free input: what the operator (or the radio link's fate) does
  element,  ///< computed by the design
  output,   ///< computed, and leaves the design
};

/// A named node, in order of declaration. Of a channel that a link carries there are two: the hand's
/// ("thrust", role hand) and what arrives ("thrust received", role element).
struct Signal {
  std::string name;  ///< with the names of the parts it stands in: "g.ok"
  std::string doc;   ///< its sentence, or ""
  std::string
      element;  ///< the keyword that declared it: channel switch button link signal pulse delay latch …
  Place place;  ///< of the name
  SignalRole role = SignalRole::element;  ///< moved from outside, or computed
  Sort sort;                              ///< how its values are said
  NodeId node = no_node;                  ///< computes its value
  std::uint32_t input = 0;                ///< role hand: index into Circuit::inputs()
};

/// A condition that holds at every tick of every run that is looked at (an `assume`, `at power_up`,
/// a channel's rate limit).
struct Constraint {
  /// Says that this constraint is a channel's rate limit: |hand - before| <= most, but at tick 0.
  struct RateLimit {
    NodeId hand = no_node;    ///< the channel
    NodeId before = no_node;  ///< the hand's value one tick ago
    Value most = 0;           ///< per tick
  };

  std::string name;                    ///< of the assumption; for the others, words that say what it is
  std::string doc;                     ///< its sentence, or ""
  Place place;                         ///< of the name
  NodeId node = no_node;               ///< the condition
  std::optional<RateLimit> rate = {};  ///< set where it is one
};

/// A piece of a claim to show where it breaks: its text as written, and the node that computes it.
struct Piece {
  std::string text;                          ///< on one line
  Place place;                               ///< where it stands
  NodeId node = no_node;                     ///< computes it
  std::vector<std::uint32_t> mentions = {};  ///< indices into Model::signals
};

/// A claim, compiled to one condition that is watched at every tick.
///   Safety forms: `watch` must never become true (it is true in the tick in which the claim is broken).
///   Possible forms: some run must make `watch` true, at tick `within` at the latest where that is given.
struct Claim {
  std::string name;                    ///< with the names of the parts it stands in: "g.closes"
  std::string doc;                     ///< its sentence, or ""
  std::string text;                    ///< the claim as written, on one line, without name and sentence
  Place place;                         ///< of the name
  ClaimForm form = ClaimForm::always;  ///< as written
  bool possible = false;               ///< one of the two possible forms
  NodeId watch = no_node;              ///< see above
  std::optional<Value> within = {};    ///< possible forms: ticks
  /// Safety forms with a premise: a claim whose premise no run can make true says nothing (vacuous).
  NodeId premise = no_node;
  Piece first;                         ///< P of ClaimForm
  std::optional<Piece> second = {};    ///< Q
  std::optional<Value> duration = {};  ///< T in ticks
};

/// Two lines of one `stages` that start in the same stage: a warning, with a run, if both can apply at once.
struct Overlap {
  std::string stages;       ///< their name
  Place first;              ///< the line that is written, and so taken, first
  Place second;             ///< the other line
  std::string first_text;   ///< as written
  std::string second_text;  ///< as written
  NodeId both = no_node;    ///< true in a tick in which both apply
};

/// The whole of a compiled design. A value, with nothing behind it: it may be copied, and read from several
/// threads.
struct Model {
  std::string title;                    ///< or ""
  std::int64_t tick_us = 0;             ///< length of a tick, microseconds, > 0
  Circuit circuit;                      ///< finished
  std::vector<Signal> signals;          ///< in the order of the text
  std::vector<Constraint> constraints;  ///< rate limits, power-up and assumptions
  std::vector<Claim> claims;            ///< in the order of the text
  std::vector<Overlap> overlaps;        ///< to be warned of, if both lines can apply
  Value longest_time = 0;               ///< the longest duration in the design, ticks
  /// Input that says whether edges count at tick 0 (`power_up edges either`), as signal index.
  std::optional<std::uint32_t> power_up_choice = {};
};

/// Ticks as a person says them: "1.24 s", "350 ms", "2 min 5 s"; exact.
[[nodiscard]] std::string time_text(Value ticks, std::int64_t tick_us);

}  // namespace detent::dsl
