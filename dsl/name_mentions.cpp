// Every mention of a name. What a position belongs to hangs on the kind of what stands before it, so kinds
// are followed here as far as positions need it: `which is run` means a position of guard where `signal which
// = guard`, and `previous(guard, starting run)` as well. terms.cpp decides the same for checking, with more
// care.
#include "dsl/name_mentions.hpp"

#include <cstdint>
#include <optional>
#include <string>

#include "dsl/name_scopes.hpp"
#include "dsl/position_word.hpp"

namespace detent::dsl {
namespace {

/// Signals that only give a signal another name, one after the other, are followed so far.
constexpr int longest_chain = 500;

/// Whose positions a value is one of.
class Owners {
 public:
  Owners(const std::vector<NamedThing>& things, const NameScopes& scopes)
      : things_(things), scopes_(scopes), known_(things.size()) {}

  std::size_t of(const Expr& expr, std::size_t part) {
    if (expr.op == Op::name) return of_thing(scopes_.find(part, expr.text));
    if (expr.op == Op::choose) {
      const std::size_t first = of(expr.operands[1], part);
      return first != no_thing ? first : of(expr.operands[2], part);
    }
    const bool same = expr.op == Op::call && (expr.text == "previous" || expr.text == "hand");
    return same ? of(expr.operands[0], part) : no_thing;
  }

  std::size_t of_thing(std::size_t index) {
    if (index == no_thing || things_[index].declaration == nullptr) return no_thing;
    const NamedThing& thing = things_[index];
    if (thing.sort != NameSort::element) return no_thing;
    if (thing.keyword == "switch" || thing.keyword == "stages") return index;
    if (known_[index]) return *known_[index];
    known_[index] = no_thing;  // while it is looked for: a loop has no owner
    if (depth_ < longest_chain) {
      ++depth_;
      known_[index] = of_body(thing);
      --depth_;
    }
    return *known_[index];
  }

 private:
  std::size_t of_body(const NamedThing& thing) {
    const DeclarationBody& body = thing.declaration->body;
    if (const auto* signal = std::get_if<SignalDeclaration>(&body)) return of(signal->value, thing.part);
    if (const auto* output = std::get_if<OutputDeclaration>(&body)) return of(output->value, thing.part);
    if (const auto* keep = std::get_if<KeepDeclaration>(&body)) return of(keep->value, thing.part);
    return no_thing;
  }

  const std::vector<NamedThing>& things_;
  const NameScopes& scopes_;
  std::vector<std::optional<std::size_t>> known_;  ///< by thing, as far as it has been looked for
  int depth_ = 0;
};

class Finder {
 public:
  Finder(const Sources& sources, NameIndex& index)
      : sources_(sources), index_(index), scopes_(index.things), owners_(index.things, scopes_) {}

  void all(const std::vector<Declaration>& declarations, std::size_t part) {
    for (const Declaration& declaration : declarations) {
      part_ = part;
      std::visit([&](const auto& body) { this->in(body, declaration); }, declaration.body);
    }
  }

 private:
  // ---- declarations ----
  void in(const DesignTitle&, const Declaration&) {}
  void in(const ButtonDeclaration&, const Declaration&) {}
  void in(const SwitchDeclaration&, const Declaration&) {}
  void in(const PowerUpEdges&, const Declaration&) {}
  void in(const IncludeDeclaration&, const Declaration&) {}
  void in(const TickDeclaration& body, const Declaration&) { each(body.length); }
  void in(const ChannelDeclaration& body, const Declaration&) {
    each(body.from, body.to, body.step, body.rate);
  }
  void in(const SignalDeclaration& body, const Declaration&) { each(body.value); }
  void in(const PulseDeclaration& body, const Declaration&) { each(body.trigger, body.length, body.cancel); }
  void in(const DelayDeclaration& body, const Declaration&) { each(body.input, body.length); }
  void in(const LingerDeclaration& body, const Declaration&) { each(body.input, body.length); }
  void in(const LatchDeclaration& body, const Declaration&) { each(body.set, body.reset); }
  void in(const CounterDeclaration& body, const Declaration&) {
    each(body.up, body.down, body.reset, body.from, body.to);
  }
  void in(const KeepDeclaration& body, const Declaration&) {
    each(body.value, body.when);
    look(body.start, owners_.of(body.value, part_));
  }
  void in(const OutputDeclaration& body, const Declaration&) {
    each(body.value, body.when);
    if (body.otherwise) look(*body.otherwise, owners_.of(body.value, part_));
  }
  void in(const TunableDeclaration& body, const Declaration&) { each(body.value, body.from, body.to); }
  void in(const AtPowerUp& body, const Declaration&) { each(body.condition); }
  void in(const ClaimDeclaration& body, const Declaration&) { claim(body.body); }
  void in(const AssumeDeclaration& body, const Declaration&) { claim(body.body); }
  void in(const LinkDeclaration& body, const Declaration&) {
    for (const Name& name : body.carried) named(name.text, name.place);
    for (const LostValue& value : body.values) {
      named(value.input.text, value.input.place);
      look(value.value, scopes_.seen(part_, value.input.text));
    }
  }
  void in(const StagesDeclaration& body, const Declaration& declaration) {
    const std::size_t owner = thing_of(declaration);
    for (const Move& move : body.moves) {
      if (move.from) position(owner, move.from->text, move.from->place);
      position(owner, move.to.text, move.to.place);
      each(move.after, move.when);
    }
  }
  void in(const PartDeclaration& body, const Declaration& declaration) {
    all(body.body, thing_of(declaration));
  }
  void in(const UseDeclaration& body, const Declaration&) {
    named(body.part.text, body.part.place);
    for (const Expr& argument : body.arguments) look(argument);
  }
  void claim(const ClaimBody& body) { each(body.first, body.second, body.duration); }

  /// By its place: another declaration of the same name is another thing.
  std::size_t thing_of(const Declaration& declaration) {
    while (next_ < index_.things.size() && index_.things[next_].declaration != &declaration) ++next_;
    return next_ < index_.things.size() ? next_ : no_thing;
  }

  // ---- expressions ----
  template <typename... Exprs>
  void each(const Exprs&... exprs) {
    (some(exprs), ...);
  }
  void some(const Expr& expr) { look(expr); }
  void some(const std::optional<Expr>& expr) {
    if (expr) look(*expr);
  }

  /// `owner`: whose positions can be meant here.
  void look(const Expr& expr, std::size_t owner = no_thing) {
    if (expr.op == Op::name) return name_or_position(expr, owner);
    const std::vector<Expr>& operands = expr.operands;
    if (expr.op == Op::is || expr.op == Op::is_not) {
      position(owners_.of(operands[0], part_), expr.text, place_of_position(expr, sources_));
    }
    const bool compares = expr.op == Op::equal || expr.op == Op::unequal;
    const bool starts = expr.op == Op::call && expr.text == "previous";
    for (std::size_t i = 0; i < operands.size(); ++i) {
      std::size_t meant = no_thing;
      if (i == 1 && (compares || starts)) meant = owners_.of(operands[0], part_);
      if (i > 0 && expr.op == Op::choose) meant = owner;
      if (i == 2 && expr.op == Op::choose && owner == no_thing) meant = owners_.of(operands[1], part_);
      look(operands[i], meant);
    }
  }

  void name_or_position(const Expr& expr, std::size_t owner) {
    const std::size_t known = owner == no_thing ? no_thing : scopes_.position(owner, expr.text);
    if (known != no_thing) return mention(known, expr.place);
    named(expr.text, expr.place);
  }

  void named(const std::string& name, const Place& place) {
    std::size_t thing = no_thing;
    for (std::size_t begin = 0, end = 0; end != std::string::npos; begin = end + 1) {
      end = name.find('.', begin);
      const std::string piece = name.substr(begin, end == std::string::npos ? end : end - begin);
      thing = begin == 0 ? scopes_.seen(part_, piece) : scopes_.inside(thing, piece);
      if (thing == no_thing) return;
      const auto at = place.begin + static_cast<std::uint32_t>(begin);
      mention(thing, {place.file, at, at + static_cast<std::uint32_t>(piece.size())});
    }
  }

  void position(std::size_t owner, const std::string& name, const Place& place) {
    const std::size_t thing = owner == no_thing ? no_thing : scopes_.position(owner, name);
    if (thing != no_thing) mention(thing, place);
  }

  void mention(std::size_t thing, const Place& place) { index_.mentions.push_back({place, thing, false}); }

  const Sources& sources_;
  NameIndex& index_;
  const NameScopes scopes_;
  Owners owners_;
  std::size_t part_ = no_thing;
  std::size_t next_ = 0;  ///< declarations come in the order of their things
};

}  // namespace

std::size_t whose_positions(const NameIndex& index, std::size_t thing) {
  const NameScopes scopes(index.things);
  return Owners(index.things, scopes).of_thing(thing);
}

void add_mentions(const Tree& tree, const Sources& sources, NameIndex& index) {
  Finder(sources, index).all(tree.declarations, no_thing);
}

}  // namespace detent::dsl
