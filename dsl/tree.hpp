// The syntax tree: what was written, before anything is known to make sense. Printable (to_text), with a
// place for everything that a message may have to point at.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "dsl/source.hpp"

namespace detent::dsl {

/// A number exactly as written: digits / 10^decimals. At most 12 digits before the point and 6 after it.
struct Decimal {
  std::int64_t digits = 0;  ///< without the point; never negative (a minus is Op::negate)
  int decimals = 0;         ///< behind the point, 0 to 6
};

/// What an expression does with its operands, or what it is.
enum class Op {
  truth,          ///< `true` (number.digits 1) or `false` (0)
  quantity,       ///< number, and its unit in `text` ("" for a plain number)
  name,           ///< `text`: thrust, or g.ok for an element of a part in use
  call,           ///< `text`: rises falls changes previous held recently since below above min max abs hand
  negate,         ///< - a
  add,            ///< a + b + …   (two or more operands; `a - b` is add(a, negate(b)))
  multiply,       ///< a * b * …
  equal,          ///< a == b
  unequal,        ///< a != b
  less,           ///< a < b
  less_equal,     ///< a <= b
  greater,        ///< a > b
  greater_equal,  ///< a >= b
  is,             ///< a is text: `guard is run`, `radio is lost`, `arming is primed`
  is_not,         ///< a is not text
  not_,           ///< not a
  and_,           ///< a and b and …  (two or more operands)
  or_,            ///< a or b or …    (two or more operands)
  xor_,           ///< a xor b
  implies,        ///< a implies b (to the right: a implies (b implies c))
  choose,         ///< if a then b else c
};

/// One expression. Operands in written order. Special forms of call:
///   below(x, L, until M) and above(x, L, until M) have three operands;
///   previous(x) has one, previous(x, starting V) two.
struct Expr {
  Op op = Op::truth;                ///< which of the forms
  Place place;                      ///< from its first character to its last
  std::string text = {};            ///< quantity, name, call, is, is_not: see Op
  Decimal number = {};              ///< truth and quantity
  std::vector<Expr> operands = {};  ///< in written order
};

/// A name that is declared or meant, and where it stands.
struct Name {
  std::string text;  ///< as written
  Place place;       ///< of these characters
};

// ---- Declarations, in the order of the reference (dsl/README.md) ----

/// `design "title"`: the title is Declaration::doc.
struct DesignTitle {};
/// `tick 20 ms`
struct TickDeclaration {
  Expr length;  ///< a time
};
/// `channel thrust from -100 % to 100 %`
struct ChannelDeclaration {
  Expr from;                 ///< its lowest level
  Expr to;                   ///< its highest level
  std::optional<Expr> step;  ///< `step S`: the grid of its levels
  std::optional<Expr> rate;  ///< `moving at most RATE per UNIT`
  std::string rate_unit;     ///< ms, s, min or tick
  Place rate_unit_place;     ///< of the unit
};
/// `switch guard is safe | run`
struct SwitchDeclaration {
  std::vector<Name> positions;  ///< in written order
};
/// `button start`
struct ButtonDeclaration {};
/// What a carried input reads as while its link is lost.
struct LostValue {
  Name input;  ///< one of the carried
  Expr value;  ///< a level; or Op::name with a position, `pressed` or `released`
};
/// `link radio carries thrust, guard lost: thrust -100 %, guard safe`
struct LinkDeclaration {
  std::vector<Name> carried;      ///< inputs
  bool as_before = false;         ///< `lost: as before`
  std::vector<LostValue> values;  ///< otherwise one for each carried input
};
/// `signal idle = E`
struct SignalDeclaration {
  Expr value;  ///< of any type
};
/// `pulse window on E for T`
struct PulseDeclaration {
  Expr trigger;                ///< starts it when it goes on
  Expr length;                 ///< a time
  bool restarting = false;     ///< a trigger during the pulse begins it anew
  std::optional<Expr> cancel;  ///< `cancelled by E`: off, and nothing starts it, while this is on
};
/// `delay settled on E for T`
struct DelayDeclaration {
  Expr input;   ///< a condition
  Expr length;  ///< a time
};
/// `linger after_run on E for T`
struct LingerDeclaration {
  Expr input;   ///< a condition
  Expr length;  ///< a time
};
/// `latch live set E reset F`
struct LatchDeclaration {
  Expr set;                  ///< a condition
  Expr reset;                ///< a condition
  bool set_wins = false;     ///< where both are on; otherwise reset wins
  bool starting_on = false;  ///< at power-up
};
/// `counter tries up E down F reset G from A to B`
struct CounterDeclaration {
  Expr up;                    ///< its rises count up
  std::optional<Expr> down;   ///< its rises count down
  std::optional<Expr> reset;  ///< a condition: `from` while it is on
  Expr from;                  ///< its lowest number, and its first
  Expr to;                    ///< its highest number, where it stays
};
/// `keep taught = E when F starting V`
struct KeepDeclaration {
  Expr value;  ///< what is kept
  Expr when;   ///< while this is on, the value is taken over
  Expr start;  ///< the value at power-up before anything was taken over
};
/// One line of a `stages`.
struct Move {
  Place place;                ///< the whole line
  std::optional<Name> from;   ///< absent: `any`
  Name to;                    ///< the stage that it leads to
  std::optional<Expr> after;  ///< the time spent in `from`; this or `when` is there, or both
  std::optional<Expr> when;   ///< a condition
};
/// `stages arming is locked | primed | live`, and the lines below it.
struct StagesDeclaration {
  std::vector<Name> stages;  ///< in written order; the first is the one at power-up
  std::vector<Move> moves;   ///< in written order: of several that apply the first is taken
};
/// `output jet = thrust when live else -100 %`; without `when` the value alone.
struct OutputDeclaration {
  Expr value;                     ///< of any type
  std::optional<Expr> when;       ///< a condition
  std::optional<Expr> otherwise;  ///< the value behind `else`; there if `when` is
};
/// `tunable patience = 3 s from 1 s to 10 s`
struct TunableDeclaration {
  Expr value;  ///< what the design is checked with
  Expr from;   ///< the lowest value that `detent tune` looks at
  Expr to;     ///< the highest
};
/// `power_up edges counted | ignored | either`
struct PowerUpEdges {
  Name rule;  ///< one of the three words
};
/// `at power_up: E`
struct AtPowerUp {
  Expr condition;  ///< what is true in the first tick
};

/// The forms of a claim, each with its formula (G always, F at some time, O at some time before, W weak
/// until; times in ticks).
enum class ClaimForm {
  always,           ///< always P                      G P
  never,            ///< never P                       G not P
  never_while,      ///< never P while Q               G not (P and Q)
  whenever,         ///< whenever P: Q                 G (P -> Q)
  whenever_within,  ///< whenever P: Q within T        G (P -> F[0,T] Q)
  whenever_for,     ///< whenever P: Q for T           G (P -> G[0,T-1] Q)   (T ticks, the first included)
  only_within,      ///< P only within T after Q       G (P -> O[0,T] Q)
  only_after,       ///< P only after Q                (not P) W Q: a Q in the same tick is enough
  only_while,       ///< P only while Q                G (P -> Q)
  lasts_at_least,   ///< P lasts at least T            once P rises, P holds for T ticks or more
  lasts_at_most,    ///< P lasts at most T             P never holds for more than T ticks on end
  possible,         ///< possible P                    E F P
  possible_within,  ///< possible P within T           E F[0,T] P, counted from tick 0
};
/// What is claimed or assumed.
struct ClaimBody {
  ClaimForm form = ClaimForm::always;  ///< says which of the rest are there
  Place place;                         ///< the whole of it
  Expr first;                          ///< P
  std::optional<Expr> second;          ///< Q
  std::optional<Expr> duration;        ///< T
};
/// `claim in_time "sentence": …`
struct ClaimDeclaration {
  ClaimBody body;  ///< of any form
};
/// `assume one_hand: …`
struct AssumeDeclaration {
  ClaimBody body;  ///< of a safety form
};

/// What may be given for a parameter of a part.
enum class ParameterKind {
  condition,  ///< on or off
  level,      ///< a number with a unit
  count,      ///< a plain whole number
  duration,   ///< a time
};
/// A parameter of a part.
struct Parameter {
  ParameterKind kind = ParameterKind::condition;  ///< what it takes
  Name name;                                      ///< what the part calls it
};
struct Declaration;
/// `part two_step(condition press, duration patience) … end`
struct PartDeclaration {
  std::vector<Parameter> parameters;  ///< in written order
  std::vector<Declaration> body;      ///< what it holds
};
/// `use g = two_step(…)`
struct UseDeclaration {
  Name part;                    ///< which part
  std::vector<Expr> arguments;  ///< in written order
};
/// `include "parts/gate.detent"`
struct IncludeDeclaration {
  std::string path;  ///< as written, relative to the file that includes
};

/// One of the forms of a declaration.
using DeclarationBody =
    std::variant<DesignTitle, TickDeclaration, ChannelDeclaration, SwitchDeclaration, ButtonDeclaration,
                 LinkDeclaration, SignalDeclaration, PulseDeclaration, DelayDeclaration, LingerDeclaration,
                 LatchDeclaration, CounterDeclaration, KeepDeclaration, StagesDeclaration, OutputDeclaration,
                 TunableDeclaration, PowerUpEdges, AtPowerUp, ClaimDeclaration, AssumeDeclaration,
                 PartDeclaration, UseDeclaration, IncludeDeclaration>;

/// One declaration, with what all forms have in common.
struct Declaration {
  Place place;      ///< the whole declaration
  Name name;        ///< empty text where the form has no name (tick, design, power_up, at power_up, include)
  std::string doc;  ///< the sentence in quotes behind the name, without quotes; "" if there is none
  DeclarationBody body;  ///< its form
};

/// One file, or, after loading, a file with all that it includes put in its place.
struct Tree {
  std::vector<Declaration> declarations;  ///< in written order
  /// Names that declarations with a mistake of grammar were about to declare ("tick", "design" and "power_up"
  /// for those without a name): using them is no further mistake.
  std::vector<Name> broken;
};

/// The tree as an indented listing, one line a node: for people who want to see what the grammar read.
[[nodiscard]] std::string to_text(const Tree& tree);

}  // namespace detent::dsl
