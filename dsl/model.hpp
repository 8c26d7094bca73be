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
struct Sort {
  SortKind kind = SortKind::condition;
  std::string unit = {};                    ///< level: "%", "us", …; "" for a count
  int decimals = 0;                         ///< level: value / 10^decimals
  std::vector<std::string> positions = {};  ///< position: all of them; condition: {word for 0, word for 1}
};

/// A value in words: "-98.5 %", "run", "pressed", "on".
[[nodiscard]] std::string to_text(Value value, const Sort& sort);

enum class SignalRole {
  hand,     ///< a free input: what the operator (or the radio link's fate) does
  element,  ///< computed by the design
  output,   ///< computed, and leaves the design
};

/// A named node, in order of declaration. Of a channel that a link carries there are two: the hand's
/// ("thrust", role hand) and what arrives ("thrust received", role element).
struct Signal {
  std::string name;
  std::string doc;
  std::string
      element;  ///< the keyword that declared it: channel switch button link signal pulse delay latch …
  Place place;
  SignalRole role = SignalRole::element;
  Sort sort;
  NodeId node = no_node;
  std::uint32_t input = 0;  ///< role hand: index into Circuit::inputs()
};

/// A condition that holds at every tick of every run that is looked at (an `assume`, `at power_up`,
/// a channel's rate limit).
struct Constraint {
  /// Says that this constraint is a channel's rate limit: |hand - before| <= most, but at tick 0.
  struct RateLimit {
    NodeId hand = no_node;
    NodeId before = no_node;  ///< the hand's value one tick ago
    Value most = 0;           ///< per tick
  };

  std::string name;
  std::string doc;
  Place place;
  NodeId node = no_node;
  std::optional<RateLimit> rate = {};
};

/// A piece of a claim to show where it breaks: its text as written, and the node that computes it.
struct Piece {
  std::string text;
  Place place;
  NodeId node = no_node;
  std::vector<std::uint32_t> mentions = {};  ///< indices into Model::signals
};

/// A claim, compiled to one condition that is watched at every tick.
///   Safety forms: `watch` must never become true (it is true in the tick in which the claim is broken).
///   Possible forms: some run must make `watch` true, at tick `within` at the latest where that is given.
struct Claim {
  std::string name;
  std::string doc;
  std::string text;  ///< the claim as written, on one line, without name and sentence
  Place place;
  ClaimForm form = ClaimForm::always;
  bool possible = false;
  NodeId watch = no_node;
  std::optional<Value> within = {};  ///< possible forms: ticks
  /// Safety forms with a premise: a claim whose premise no run can make true says nothing (vacuous).
  NodeId premise = no_node;
  Piece first;                         ///< P of ClaimForm
  std::optional<Piece> second = {};    ///< Q
  std::optional<Value> duration = {};  ///< T in ticks
};

/// Two lines of one `stages` that start in the same stage: a warning, with a run, if both can apply at once.
struct Overlap {
  std::string stages;
  Place first, second;
  std::string first_text, second_text;
  NodeId both = no_node;
};

struct Model {
  std::string title;
  std::int64_t tick_us = 0;  ///< length of a tick, microseconds
  Circuit circuit;
  std::vector<Signal> signals;
  std::vector<Constraint> constraints;
  std::vector<Claim> claims;
  std::vector<Overlap> overlaps;
  Value longest_time = 0;  ///< the longest duration in the design, ticks
  /// Input that says whether edges count at tick 0 (`power_up edges either`), as signal index.
  std::optional<std::uint32_t> power_up_choice = {};
};

/// Ticks as a person says them: "1.24 s", "350 ms", "2 min 5 s"; exact.
[[nodiscard]] std::string time_text(Value ticks, std::int64_t tick_us);

}  // namespace detent::dsl
