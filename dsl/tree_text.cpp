// The tree as an indented listing, one line a node, for people who want to see what the grammar read.
#include <fmt/format.h>

#include <iterator>

#include "dsl/tree.hpp"

namespace detent::dsl {
namespace {

std::string decimal_text(const Decimal& number) {
  std::string digits = std::to_string(number.digits);
  if (number.decimals == 0) return digits;
  const auto decimals = static_cast<std::size_t>(number.decimals);
  if (digits.size() <= decimals) digits.insert(0, decimals + 1 - digits.size(), '0');
  return digits.insert(digits.size() - decimals, ".");
}

std::string_view op_name(Op op) {
  switch (op) {
    case Op::truth:
      return "truth";
    case Op::quantity:
      return "quantity";
    case Op::name:
      return "name";
    case Op::call:
      return "call";
    case Op::negate:
      return "negate";
    case Op::add:
      return "add";
    case Op::multiply:
      return "multiply";
    case Op::equal:
      return "equal";
    case Op::unequal:
      return "unequal";
    case Op::less:
      return "less";
    case Op::less_equal:
      return "less_equal";
    case Op::greater:
      return "greater";
    case Op::greater_equal:
      return "greater_equal";
    case Op::is:
      return "is";
    case Op::is_not:
      return "is_not";
    case Op::not_:
      return "not";
    case Op::and_:
      return "and";
    case Op::or_:
      return "or";
    case Op::xor_:
      return "xor";
    case Op::implies:
      return "implies";
    case Op::choose:
      return "choose";
  }
  return "";
}

std::string expr_head(const Expr& expr) {
  if (expr.op == Op::truth) return expr.number.digits == 1 ? "true" : "false";
  if (expr.op == Op::quantity) {
    return fmt::format("{}{}{}", decimal_text(expr.number), expr.text.empty() ? "" : " ", expr.text);
  }
  return fmt::format("{}{}{}", op_name(expr.op), expr.text.empty() ? "" : " ", expr.text);
}

std::string_view form_name(ClaimForm form) {
  switch (form) {
    case ClaimForm::always:
      return "always";
    case ClaimForm::never:
      return "never";
    case ClaimForm::never_while:
      return "never_while";
    case ClaimForm::whenever:
      return "whenever";
    case ClaimForm::whenever_within:
      return "whenever_within";
    case ClaimForm::whenever_for:
      return "whenever_for";
    case ClaimForm::only_within:
      return "only_within";
    case ClaimForm::only_after:
      return "only_after";
    case ClaimForm::only_while:
      return "only_while";
    case ClaimForm::lasts_at_least:
      return "lasts_at_least";
    case ClaimForm::lasts_at_most:
      return "lasts_at_most";
    case ClaimForm::possible:
      return "possible";
    case ClaimForm::possible_within:
      return "possible_within";
  }
  return "";
}

std::string_view kind_name(ParameterKind kind) {
  switch (kind) {
    case ParameterKind::condition:
      return "condition";
    case ParameterKind::level:
      return "level";
    case ParameterKind::count:
      return "count";
    case ParameterKind::duration:
      return "duration";
  }
  return "";
}

/// Writes the listing: each body says its own lines, below the line of its declaration.
class Listing {
 public:
  [[nodiscard]] std::string take() { return std::move(text_); }
  void show(const Declaration& declaration);

  void operator()(const DesignTitle&) { head("design"); }
  void operator()(const TickDeclaration& it) { head("tick"), show("length", it.length); }
  void operator()(const ChannelDeclaration& it);
  void operator()(const SwitchDeclaration& it) { head("switch"), show("position", it.positions); }
  void operator()(const ButtonDeclaration&) { head("button"); }
  void operator()(const LinkDeclaration& it);
  void operator()(const SignalDeclaration& it) { head("signal"), show("value", it.value); }
  void operator()(const PulseDeclaration& it);
  void operator()(const DelayDeclaration& it) { head("delay"), show("on", it.input), show("for", it.length); }
  void operator()(const LingerDeclaration& it) {
    head("linger"), show("on", it.input), show("for", it.length);
  }
  void operator()(const LatchDeclaration& it);
  void operator()(const CounterDeclaration& it);
  void operator()(const KeepDeclaration& it);
  void operator()(const StagesDeclaration& it);
  void operator()(const OutputDeclaration& it);
  void operator()(const TunableDeclaration& it);
  void operator()(const PowerUpEdges& it) { head("power_up"), line("edges " + it.rule.text); }
  void operator()(const AtPowerUp& it) { head("at power_up"), show("condition", it.condition); }
  void operator()(const ClaimDeclaration& it) { head("claim"), show(it.body); }
  void operator()(const AssumeDeclaration& it) { head("assume"), show(it.body); }
  void operator()(const PartDeclaration& it);
  void operator()(const UseDeclaration& it);
  void operator()(const IncludeDeclaration& it) { head("include"), line("file \"" + it.path + "\""); }

 private:
  void line(std::string_view words);
  void head(std::string_view keyword);
  void show(const Expr& expr);
  void show(std::string_view role, const Expr& expr);
  void show(std::string_view role, const std::optional<Expr>& expr);
  void show(std::string_view role, const std::vector<Name>& names);
  void show(const ClaimBody& body);
  void show(const Move& move);

  std::string text_;
  std::size_t depth_ = 0;
  const Declaration* declaration_ = nullptr;
};

void Listing::line(std::string_view words) {
  text_.append(2 * depth_, ' ').append(words).append("\n");
}

void Listing::head(std::string_view keyword) {
  std::string words(keyword);
  if (!declaration_->name.text.empty()) words += " " + declaration_->name.text;
  if (!declaration_->doc.empty()) words += " \"" + declaration_->doc + "\"";
  line(words);
  ++depth_;
}

void Listing::show(const Expr& expr) {
  line(expr_head(expr));
  ++depth_;
  for (const Expr& operand : expr.operands) show(operand);
  --depth_;
}

void Listing::show(std::string_view role, const Expr& expr) {
  line(role);
  ++depth_;
  show(expr);
  --depth_;
}

void Listing::show(std::string_view role, const std::optional<Expr>& expr) {
  if (expr) show(role, *expr);
}

void Listing::show(std::string_view role, const std::vector<Name>& names) {
  for (const Name& name : names) line(fmt::format("{} {}", role, name.text));
}

void Listing::show(const ClaimBody& body) {
  line(form_name(body.form));
  ++depth_;
  show("first", body.first), show("second", body.second), show("duration", body.duration);
  --depth_;
}

void Listing::show(const Move& move) {
  line(fmt::format("move {} -> {}", move.from ? move.from->text : "any", move.to.text));
  ++depth_;
  show("after", move.after), show("when", move.when);
  --depth_;
}

void Listing::operator()(const ChannelDeclaration& it) {
  head("channel");
  show("from", it.from), show("to", it.to), show("step", it.step), show("moving at most", it.rate);
  if (it.rate) line("per " + it.rate_unit);
}

void Listing::operator()(const LinkDeclaration& it) {
  head("link");
  show("carries", it.carried);
  if (it.as_before) line("lost as before");
  for (const LostValue& lost : it.values) show("lost " + lost.input.text, lost.value);
}

void Listing::operator()(const PulseDeclaration& it) {
  head("pulse");
  show("on", it.trigger), show("for", it.length);
  if (it.restarting) line("restarting");
  show("cancelled by", it.cancel);
}

void Listing::operator()(const LatchDeclaration& it) {
  head("latch");
  show("set", it.set), show("reset", it.reset);
  line(it.set_wins ? "set wins" : "reset wins");
  line(it.starting_on ? "starting on" : "starting off");
}

void Listing::operator()(const CounterDeclaration& it) {
  head("counter");
  show("up", it.up), show("down", it.down), show("reset", it.reset), show("from", it.from), show("to", it.to);
}

void Listing::operator()(const KeepDeclaration& it) {
  head("keep");
  show("value", it.value), show("when", it.when), show("starting", it.start);
}

void Listing::operator()(const StagesDeclaration& it) {
  head("stages");
  show("stage", it.stages);
  for (const Move& move : it.moves) show(move);
}

void Listing::operator()(const OutputDeclaration& it) {
  head("output");
  show("value", it.value), show("when", it.when), show("else", it.otherwise);
}

void Listing::operator()(const TunableDeclaration& it) {
  head("tunable");
  show("value", it.value), show("from", it.from), show("to", it.to);
}

void Listing::operator()(const PartDeclaration& it) {
  head("part");
  for (const Parameter& parameter : it.parameters) {
    line(fmt::format("parameter {} {}", kind_name(parameter.kind), parameter.name.text));
  }
  for (const Declaration& declaration : it.body) show(declaration);
}

void Listing::operator()(const UseDeclaration& it) {
  head("use");
  line("part " + it.part.text);
  for (const Expr& argument : it.arguments) show("argument", argument);
}

void Listing::show(const Declaration& declaration) {
  const std::size_t depth = depth_;
  declaration_ = &declaration;
  std::visit(*this, declaration.body);
  depth_ = depth;
}

}  // namespace

std::string to_text(const Tree& tree) {
  Listing listing;
  for (const Declaration& declaration : tree.declarations) listing.show(declaration);
  return listing.take();
}

}  // namespace detent::dsl
