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
  std::int64_t digits = 0;
  int decimals = 0;
};

enum class Op {
  truth,       ///< `true` (number.digits 1) or `false` (0)
  quantity,    ///< number, and its unit in `text` ("" for a plain number)
  name,        ///< `text`: thrust, or g.ok for an element of a part in use
  call,        ///< `text`: rises falls changes previous held recently since below above min max abs hand
  negate,      ///< - a
  add,         ///< a + b + …   (two or more operands; `a - b` is add(a, negate(b)))
  multiply,    ///< a * b * …
  equal,       ///< a == b
  unequal,     ///< a != b
  less,        ///< a < b
  less_equal,  ///< a <= b
  greater,
  greater_equal,
  is,      ///< a is text: `guard is run`, `radio is lost`, `arming is primed`
  is_not,  ///< a is not text
  not_,
  and_,  ///< two or more operands
  or_,
  xor_,
  implies,  ///< a implies b (to the right: a implies (b implies c))
  choose,   ///< if a then b else c
};

/// One expression. Operands in written order. Special forms of call:
///   below(x, L, until M) and above(x, L, until M) have three operands;
///   previous(x) has one, previous(x, starting V) two.
struct Expr {
  Op op = Op::truth;
  Place place;
  std::string text = {};
  Decimal number = {};
  std::vector<Expr> operands = {};
};

struct Name {
  std::string text;
  Place place;
};

// ---- Declarations, in the order of the reference (dsl/README.md) ----

struct DesignTitle {};  ///< `design "title"`: the title is Declaration::doc
struct TickDeclaration {
  Expr length;
};
struct ChannelDeclaration {
  Expr from, to;
  std::optional<Expr> step;
  std::optional<Expr> rate;  ///< `moving at most RATE per UNIT`
  std::string rate_unit;     ///< ms, s, min or tick
  Place rate_unit_place;
};
struct SwitchDeclaration {
  std::vector<Name> positions;
};
struct ButtonDeclaration {};
struct LostValue {
  Name input;
  Expr value;  ///< a level; or Op::name with a position, `pressed` or `released`
};
struct LinkDeclaration {
  std::vector<Name> carried;
  bool as_before = false;         ///< `lost: as before`
  std::vector<LostValue> values;  ///< otherwise one for each carried input
};
struct SignalDeclaration {
  Expr value;
};
struct PulseDeclaration {
  Expr trigger, length;
  bool restarting = false;
  std::optional<Expr> cancel;
};
struct DelayDeclaration {
  Expr input, length;
};
struct LingerDeclaration {
  Expr input, length;
};
struct LatchDeclaration {
  Expr set, reset;
  bool set_wins = false;
  bool starting_on = false;
};
struct CounterDeclaration {
  Expr up;
  std::optional<Expr> down, reset;
  Expr from, to;
};
struct KeepDeclaration {
  Expr value, when, start;
};
struct Move {
  Place place;
  std::optional<Name> from;  ///< absent: `any`
  Name to;
  std::optional<Expr> after, when;  ///< at least one
};
struct StagesDeclaration {
  std::vector<Name> stages;
  std::vector<Move> moves;
};
/// `output jet = thrust when live else -100 %`; without `when` the value alone.
struct OutputDeclaration {
  Expr value;
  std::optional<Expr> when, otherwise;
};
struct TunableDeclaration {
  Expr value, from, to;
};
/// `power_up edges counted | ignored | either`
struct PowerUpEdges {
  Name rule;
};
/// `at power_up: E`
struct AtPowerUp {
  Expr condition;
};

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
struct ClaimBody {
  ClaimForm form = ClaimForm::always;
  Place place;
  Expr first;                    ///< P
  std::optional<Expr> second;    ///< Q
  std::optional<Expr> duration;  ///< T
};
struct ClaimDeclaration {
  ClaimBody body;
};
struct AssumeDeclaration {
  ClaimBody body;
};

enum class ParameterKind { condition, level, count, duration };
struct Parameter {
  ParameterKind kind = ParameterKind::condition;
  Name name;
};
struct Declaration;
struct PartDeclaration {
  std::vector<Parameter> parameters;
  std::vector<Declaration> body;
};
struct UseDeclaration {
  Name part;
  std::vector<Expr> arguments;
};
struct IncludeDeclaration {
  std::string path;  ///< as written, relative to the file that includes
};

using DeclarationBody =
    std::variant<DesignTitle, TickDeclaration, ChannelDeclaration, SwitchDeclaration, ButtonDeclaration,
                 LinkDeclaration, SignalDeclaration, PulseDeclaration, DelayDeclaration, LingerDeclaration,
                 LatchDeclaration, CounterDeclaration, KeepDeclaration, StagesDeclaration, OutputDeclaration,
                 TunableDeclaration, PowerUpEdges, AtPowerUp, ClaimDeclaration, AssumeDeclaration,
                 PartDeclaration, UseDeclaration, IncludeDeclaration>;

struct Declaration {
  Place place;      ///< the whole declaration
  Name name;        ///< empty text where the form has no name (tick, design, power_up, at power_up, include)
  std::string doc;  ///< the sentence in quotes behind the name, without quotes; "" if there is none
  DeclarationBody body;
};

/// One file, or, after loading, a file with all that it includes put in its place.
struct Tree {
  std::vector<Declaration> declarations;
  /// Names that declarations with a mistake of grammar were about to declare ("tick", "design" and "power_up"
  /// for those without a name): using them is no further mistake.
  std::vector<Name> broken;
};

/// The tree as an indented listing, one line a node: for people who want to see what the grammar read.
[[nodiscard]] std::string to_text(const Tree& tree);

}  // namespace detent::dsl
