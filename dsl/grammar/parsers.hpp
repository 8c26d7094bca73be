// The X3 parsers that the rules are written with: tokens, and directives for places, brackets, operators
// and what must come next. Each is a thin wrapper round one function of Reading.
#pragma once

#include <boost/spirit/home/x3.hpp>
#include <utility>

#include "dsl/grammar/reading.hpp"
#include "dsl/grammar/words.hpp"

namespace detent::dsl::grammar {

namespace x3 = boost::spirit::x3;

struct reading_tag;
/// One context for all rules; there is no skipper, since tokens take the white space behind them.
using Context = x3::context<reading_tag, Reading>;

template <class AnyContext>
Reading& reading(const AnyContext& context) {
  return x3::get<reading_tag>(context);
}

// ---- Tokens ----

/// A token that a function of Reading takes and that carries a value.
template <class Value, bool (Reading::*take)(Cursor&, Value&)>
struct ValueToken : x3::parser<ValueToken<Value, take>> {
  using attribute_type = Value;
  static constexpr bool has_attribute = true;
  template <class AnyContext, class RuleContext, class Attribute>
  bool parse(Cursor& first, const Cursor&, const AnyContext& context, RuleContext&, Attribute& value) const {
    if constexpr (std::is_same_v<Attribute, Value>) {
      return (reading(context).*take)(first, value);
    } else {
      Value unwanted;
      return (reading(context).*take)(first, unwanted);
    }
  }
};
inline constexpr ValueToken<Name, &Reading::take_name> name;
inline constexpr ValueToken<Name, &Reading::take_dotted_name> dotted_name;
inline constexpr ValueToken<Name, &Reading::take_position> position;
inline constexpr ValueToken<Name, &Reading::take_lone_position> lone_position;
inline constexpr ValueToken<Name, &Reading::take_any_word> any_word;
inline constexpr ValueToken<Name, &Reading::take_edge_rule> edge_rule;
inline constexpr ValueToken<std::string, &Reading::take_text> text;
inline constexpr ValueToken<Expr, &Reading::take_quantity> quantity;

/// A token with a fixed spelling.
template <bool (Reading::*take)(Cursor&, std::string_view)>
struct SpelledToken : x3::parser<SpelledToken<take>> {
  using attribute_type = x3::unused_type;
  static constexpr bool has_attribute = false;
  std::string_view spelling;
  explicit constexpr SpelledToken(std::string_view spelled) : spelling(spelled) {}
  template <class AnyContext, class RuleContext, class Attribute>
  bool parse(Cursor& first, const Cursor&, const AnyContext& context, RuleContext&, Attribute&) const {
    return (reading(context).*take)(first, spelling);
  }
};
using word = SpelledToken<&Reading::take_word>;
using mark = SpelledToken<&Reading::take_mark>;
using operator_word = SpelledToken<&Reading::take_operator>;

/// Looks at what stands here, takes nothing: matches, or throws a message.
template <void (Reading::*look)(Cursor) const>
struct Lookahead : x3::parser<Lookahead<look>> {
  using attribute_type = x3::unused_type;
  static constexpr bool has_attribute = false;
  template <class AnyContext, class RuleContext, class Attribute>
  bool parse(Cursor& first, const Cursor&, const AnyContext& context, RuleContext&, Attribute&) const {
    (reading(context).*look)(first);
    return true;
  }
};
inline constexpr Lookahead<&Reading::refuse_call> not_a_call;

/// Matches where a line of `stages` begins, takes nothing.
struct MoveBegins : x3::parser<MoveBegins> {
  using attribute_type = x3::unused_type;
  static constexpr bool has_attribute = false;
  template <class AnyContext, class RuleContext, class Attribute>
  bool parse(Cursor& first, const Cursor&, const AnyContext& context, RuleContext&, Attribute&) const {
    return reading(context).move_begins(first);
  }
};
inline constexpr MoveBegins move_begins;

/// Matches if the move that is being read says when it happens.
struct MoveHasCause : x3::parser<MoveHasCause> {
  using attribute_type = x3::unused_type;
  static constexpr bool has_attribute = false;
  template <class AnyContext, class Attribute>
  bool parse(Cursor& first, const Cursor&, const AnyContext& context, Move& move, Attribute&) const {
    if (move.after || move.when) return true;
    throw reading(context).expected(first, "'when' and a condition, or 'after' and a duration");
  }
};
inline constexpr MoveHasCause move_has_cause;

/// The `=` before a value.
struct GetsToken : x3::parser<GetsToken> {
  using attribute_type = x3::unused_type;
  static constexpr bool has_attribute = false;
  template <class AnyContext, class RuleContext, class Attribute>
  bool parse(Cursor& first, const Cursor&, const AnyContext& context, RuleContext&, Attribute&) const {
    return reading(context).take_gets(first);
  }
};

// ---- What must come next ----

/// Where the subject does not match, the declaration cannot be read: says so in the given plain words.
template <class Subject>
struct Must : x3::unary_parser<Subject, Must<Subject>> {
  static constexpr bool is_pass_through_unary = true;
  std::string_view what;
  Must(const Subject& inner, std::string_view words)
      : x3::unary_parser<Subject, Must<Subject>>(inner), what(words) {}
  template <class AnyContext, class RuleContext, class Attribute>
  bool parse(Cursor& first, const Cursor& last, const AnyContext& context, RuleContext& rule,
             Attribute& attribute) const {
    if (this->subject.parse(first, last, context, rule, attribute)) return true;
    throw reading(context).expected(first, what);
  }
};
template <class Subject>
auto must(std::string_view what, const Subject& subject) {
  return Must<typename x3::extension::as_parser<Subject>::value_type>(x3::as_parser(subject), what);
}

/// A new name; a reserved word in its place has a message of its own.
struct NewName : x3::parser<NewName> {
  using attribute_type = Name;
  static constexpr bool has_attribute = true;
  std::string_view what;
  explicit constexpr NewName(std::string_view words) : what(words) {}
  template <class AnyContext, class RuleContext>
  bool parse(Cursor& first, const Cursor&, const AnyContext& context, RuleContext&, Name& value) const {
    if (reading(context).take_name(first, value)) return true;
    throw reading(context).expected_name(first, what);
  }
};
using new_name = NewName;

// ---- Places, brackets, nesting ----

/// Sets the place of what the subject reads: from its first token to its last.
/// The attribute is that of the rule in which the directive stands (or of the subject).
template <class Subject>
struct Placed : x3::unary_parser<Subject, Placed<Subject>> {
  static constexpr bool is_pass_through_unary = true;
  explicit Placed(const Subject& inner) : x3::unary_parser<Subject, Placed<Subject>>(inner) {}
  template <class AnyContext, class RuleContext, class Attribute>
  bool parse(Cursor& first, const Cursor& last, const AnyContext& context, RuleContext& rule,
             Attribute& attribute) const {
    const Cursor begin = first;
    if (!this->subject.parse(first, last, context, rule, attribute)) return false;
    rule.place = reading(context).place_from(begin);
    return true;
  }
};
template <class Subject>
auto placed(const Subject& inner) {
  return Placed<Subject>(inner);
}

/// Counts one level of nesting while the subject is read.
class Level {
 public:
  Level(Reading& reading, Cursor at) : reading_(reading) { reading_.enter(at); }
  ~Level() { reading_.leave(); }
  Level(const Level&) = delete;
  Level& operator=(const Level&) = delete;

 private:
  Reading& reading_;
};

/// ( subject ), one level deeper. A bracket that is not closed is shown where it was opened.
template <class Subject>
struct InBrackets : x3::unary_parser<Subject, InBrackets<Subject>> {
  static constexpr bool is_pass_through_unary = true;
  std::string_view what;
  InBrackets(const Subject& inner, std::string_view words)
      : x3::unary_parser<Subject, InBrackets<Subject>>(inner), what(words) {}
  template <class AnyContext, class RuleContext, class Attribute>
  bool parse(Cursor& first, const Cursor& last, const AnyContext& context, RuleContext& rule,
             Attribute& attribute) const {
    Reading& reader = reading(context);
    const Cursor open = first;
    if (!reader.take_mark(first, "(")) return false;
    const Level level(reader, open);
    if (!this->subject.parse(first, last, context, rule, attribute)) throw reader.expected(first, what);
    if (reader.take_mark(first, ")")) return true;
    Mistake unclosed = reader.expected(first, "an operator or ')'");
    unclosed.diagnostic.notes.push_back({reader.place(open, open + 1), "the bracket is opened here"});
    throw unclosed;
  }
};
template <class Subject>
auto in_brackets(const Subject& subject, std::string_view what) {
  return InBrackets<typename x3::extension::as_parser<Subject>::value_type>(x3::as_parser(subject), what);
}

/// The subject, one level deeper.
template <class Subject>
struct Deeper : x3::unary_parser<Subject, Deeper<Subject>> {
  static constexpr bool is_pass_through_unary = true;
  explicit Deeper(const Subject& inner) : x3::unary_parser<Subject, Deeper<Subject>>(inner) {}
  template <class AnyContext, class RuleContext, class Attribute>
  bool parse(Cursor& first, const Cursor& last, const AnyContext& context, RuleContext& rule,
             Attribute& attribute) const {
    const Level level(reading(context), first);
    return this->subject.parse(first, last, context, rule, attribute);
  }
};
template <class Subject>
auto deeper(const Subject& inner) {
  return Deeper<Subject>(inner);
}

// ---- Where a value goes ----

/// Puts what was read into a member of what the rule makes.
template <class Member, class Owner>
auto into(Member Owner::*member) {
  return [member](auto& context) { x3::_val(context).*member = std::move(x3::_attr(context)); };
}
/// Adds what was read to a list of what the rule makes.
template <class Member, class Owner>
auto onto(Member Owner::*member) {
  return [member](auto& context) { (x3::_val(context).*member).push_back(std::move(x3::_attr(context))); };
}
/// Notes that an optional word was there.
template <class Owner>
auto flag(bool Owner::*member) {
  return [member](auto& context) { x3::_val(context).*member = true; };
}

}  // namespace detent::dsl::grammar
