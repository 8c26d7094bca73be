// A value is put in where it was written: its number takes the place of the old one in the syntax tree, and
// the tree goes the usual way. So whatever a tunable is used for (a time, a level, an argument of a part, an
// end of a range) needs no word here, and a value that makes the text wrong is found by those who know.
#include "dsl/tunables.hpp"

#include <algorithm>
#include <charconv>

#include "dsl/check.hpp"
#include "dsl/decimals.hpp"
#include "dsl/lower.hpp"
#include "dsl/units.hpp"

namespace detent::dsl {
namespace {

constexpr Picoseconds ps_per_us = 1'000'000;

/// A number that is written out, with its sign; null if the expression is none.
const Expr* literal_of(const Expr& expr, int& sign) {
  sign = expr.op == Op::negate ? -1 : 1;
  const Expr& number = expr.op == Op::negate ? expr.operands.front() : expr;
  return number.op == Op::quantity ? &number : nullptr;
}

std::optional<Value> ticks_in(const Decimal& number, const std::string& unit, std::int64_t tick_us) {
  const Picoseconds tick = tick_us * ps_per_us;
  const auto length = unit_length(unit, tick);
  Picoseconds product = 0;
  if (!length || tick == 0 || __builtin_mul_overflow(*length, Picoseconds{number.digits}, &product))
    return {};
  const Picoseconds whole = tick * power_of_ten(number.decimals);
  if (product % whole != 0) return {};
  return static_cast<Value>(product / whole);
}

class Reader {
 public:
  Reader(const TunableDeclaration& body, std::int64_t tick_us) : body_(body), tick_us_(tick_us) {}

  bool read(Tunable& tunable) const {
    int sign = 1;
    const Expr* written = literal_of(body_.value, sign);
    if (written == nullptr) return false;
    tunable.is_time = is_time_unit(written->text);
    if (!tunable.is_time)
      tunable.sort = {.kind = SortKind::level, .unit = written->text, .decimals = decimals()};
    const auto value = value_of(body_.value, tunable);
    const auto low = value_of(body_.from, tunable);
    const auto high = value_of(body_.to, tunable);
    if (!value || !low || !high || *low > *value || *value > *high) return false;
    tunable.written = *value;
    tunable.low = *low;
    tunable.high = *high;
    return true;
  }

 private:
  [[nodiscard]] int decimals() const {
    int most = 0;
    for (const Expr* expr : {&body_.value, &body_.from, &body_.to}) {
      int sign = 1;
      if (const Expr* number = literal_of(*expr, sign)) most = std::max(most, number->number.decimals);
    }
    return most;
  }

  [[nodiscard]] std::optional<Value> value_of(const Expr& expr, const Tunable& tunable) const {
    int sign = 1;
    const Expr* number = literal_of(expr, sign);
    if (number == nullptr) return {};
    if (tunable.is_time) {
      const auto ticks = ticks_in(number->number, number->text, tick_us_);
      return ticks ? std::optional(sign * *ticks) : std::nullopt;
    }
    if (number->text != tunable.sort.unit) return {};
    return sign * number->number.digits * power_of_ten(tunable.sort.decimals - number->number.decimals);
  }

  const TunableDeclaration& body_;
  std::int64_t tick_us_;
};

void find_all(const std::vector<Declaration>& declarations, std::int64_t tick_us, const std::string& prefix,
              std::vector<std::size_t>& path, std::vector<Tunable>& found) {
  for (std::size_t index = 0; index < declarations.size(); ++index) {
    const Declaration& one = declarations[index];
    path.push_back(index);
    if (const auto* body = std::get_if<TunableDeclaration>(&one.body)) {
      Tunable tunable;
      tunable.name = prefix + one.name.text;
      tunable.doc = one.doc;
      tunable.place = one.name.place;
      tunable.path = path;
      if (Reader(*body, tick_us).read(tunable)) found.push_back(std::move(tunable));
    } else if (const auto* part = std::get_if<PartDeclaration>(&one.body)) {
      find_all(part->body, tick_us, prefix + one.name.text + ".", path, found);
    }
    path.pop_back();
  }
}

Declaration& at_path(Tree& tree, const std::vector<std::size_t>& path) {
  std::vector<Declaration>* level = &tree.declarations;
  for (std::size_t depth = 0; depth + 1 < path.size(); ++depth) {
    level = &std::get<PartDeclaration>((*level)[path[depth]].body).body;
  }
  return (*level)[path.back()];
}

/// With all its decimals, zeros too: they settle how fine the ends of the range may be.
Expr literal(const Tunable& tunable, Value value, const Place& place) {
  Expr number{.op = Op::quantity, .place = place, .text = tunable.is_time ? "ticks" : tunable.sort.unit};
  number.number = {value < 0 ? -value : value, tunable.is_time ? 0 : tunable.sort.decimals};
  if (value >= 0) return number;
  Expr negative{.op = Op::negate, .place = place};
  negative.operands.push_back(std::move(number));
  return negative;
}

std::string_view without_blanks(std::string_view text) {
  const auto begin = text.find_first_not_of(' ');
  if (begin == text.npos) return {};
  return text.substr(begin, text.find_last_not_of(' ') + 1 - begin);
}

constexpr std::size_t most_digits = 12;

/// "0.5" as 5 / 10; at most 12 digits in all, so that nothing below overflows.
std::optional<Decimal> read_decimal(std::string_view text) {
  const std::size_t point = text.find('.');
  std::string digits(text.substr(0, point));
  Decimal number;
  if (point != text.npos) {
    const std::string_view fraction = text.substr(point + 1);
    if (fraction.empty() || fraction.size() > 6) return {};
    digits += fraction;
    number.decimals = static_cast<int>(fraction.size());
  }
  if (digits.empty() || digits.size() > most_digits) return {};
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), number.digits);
  const bool whole = error == std::errc{} && end == digits.data() + digits.size() && digits.front() != '-';
  return whole ? std::optional(number) : std::nullopt;
}

}  // namespace

std::vector<Tunable> tunables(const Tree& tree, std::int64_t tick_us) {
  std::vector<Tunable> found;
  std::vector<std::size_t> path;
  find_all(tree.declarations, tick_us, "", path, found);
  return found;
}

std::string value_text(const Tunable& tunable, Value value, std::int64_t tick_us) {
  return tunable.is_time ? time_text(value, tick_us) : to_text(value, tunable.sort);
}

std::optional<Value> read_step(const Tunable& tunable, const std::string& text, std::int64_t tick_us) {
  const std::string_view all = without_blanks(text);
  const std::size_t split = std::min(all.find_first_not_of("0123456789."), all.size());
  const auto number = read_decimal(all.substr(0, split));
  const std::string unit(without_blanks(all.substr(split)));
  if (!number) return {};
  std::optional<Value> step;
  if (tunable.is_time) {
    if (is_time_unit(unit)) step = ticks_in(*number, unit, tick_us);
  } else if (unit == tunable.sort.unit && number->decimals <= tunable.sort.decimals) {
    step = number->digits * power_of_ten(tunable.sort.decimals - number->decimals);
  }
  return step && *step >= 1 ? step : std::nullopt;
}

Tried with_values(const Tree& tree, const Sources& sources, const std::vector<Setting>& settings) {
  Tree changed = tree;
  for (const Setting& one : settings) {
    Expr& written = std::get<TunableDeclaration>(at_path(changed, one.tunable->path).body).value;
    written = literal(*one.tunable, one.value, written.place);
  }
  Tried tried;
  if (const auto design = check(changed, sources, tried.errors)) {
    Model model = lower(*design, sources, tried.errors);
    if (!has_errors(tried.errors)) tried.model = std::move(model);
  }
  std::erase_if(tried.errors, [](const Diagnostic& one) { return one.severity() != Severity::error; });
  sort_by_place(tried.errors);
  return tried;
}

}  // namespace detent::dsl
