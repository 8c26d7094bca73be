#include "dsl/durations.hpp"

#include <fmt/format.h>

#include "dsl/decimals.hpp"
#include "dsl/limits.hpp"
#include "dsl/text.hpp"

namespace detent::dsl {
namespace {

constexpr Picoseconds longest_length = Picoseconds{1'000'000'000'000'000'000} * 1'000'000'000'000;

class LengthReader {
 public:
  LengthReader(const Scope& scope, CheckContext& context) : scope_(scope), context_(context) {}

  std::optional<Picoseconds> read(const Expr& expr) {
    const std::optional<Picoseconds> length = read_any(expr);
    if (length && (*length > longest_length || *length < -longest_length)) {
      context_.report(Code::bad_duration, expr.place, "this time is longer than any that can be checked",
                      fmt::format("use at most {} ticks", longest_duration));
      return std::nullopt;
    }
    return length;
  }

 private:
  std::optional<Picoseconds> read_any(const Expr& expr) {
    switch (expr.op) {
      case Op::quantity:
        return read_quantity(expr);
      case Op::name:
        return read_name(expr);
      case Op::negate: {
        const auto length = read(expr.operands[0]);
        return length ? std::optional(-*length) : std::nullopt;
      }
      case Op::add:
        return read_sum(expr);
      case Op::multiply:
        return read_product(expr);
      default:
        context_.report(
            Code::not_constant, expr.place,
            fmt::format("a time is needed here, not '{}'", one_line(context_.sources.text(expr.place))),
            "write a time such as '8 s', '250 ms' or '3 ticks'");
        return std::nullopt;
    }
  }

  std::optional<Picoseconds> read_quantity(const Expr& expr) {
    const auto unit = unit_length(expr.text, context_.tick);
    if (unit) {
      // Exact: no unit is shorter than 10^6 ps, and no number has more than 6 decimals; `tick` is whole ps.
      return *unit * expr.number.digits / power_of_ten(expr.number.decimals);
    }
    if (expr.text.empty()) {
      context_.report(Code::wrong_unit, expr.place, "a time needs a unit",
                      "write for example '8 s', '250 ms' or '3 ticks'");
    } else if (is_level_unit(expr.text)) {
      context_.report(Code::wrong_unit, expr.place,
                      fmt::format("a time is needed here, but '{}' is no unit of time", expr.text),
                      "use ms, s, min, h or ticks");
    } else {
      const std::string near = nearest_name(expr.text, {"us", "ms", "s", "min", "h", "tick", "ticks"});
      context_.report(Code::unknown_unit, expr.place, fmt::format("there is no unit called '{}'", expr.text),
                      near.empty() ? "use ms, s, min, h or ticks" : fmt::format("did you mean '{}'?", near));
    }
    return std::nullopt;
  }

  std::optional<Picoseconds> read_name(const Expr& expr) {
    const Bound* bound = resolve(scope_, expr.text, expr.place, context_);
    if (bound == nullptr) {
      return std::nullopt;
    }
    if (const auto* given = std::get_if<DurationBinding>(&bound->binding)) {
      return given->length;
    }
    const auto* tunable = std::get_if<TunableBinding>(&bound->binding);
    if (tunable != nullptr && depth_ < 20) {
      ++depth_;
      const auto length = read(std::get<TunableDeclaration>(tunable->declaration->body).value);
      --depth_;
      return length;
    }
    context_.report(Code::not_constant, expr.place, fmt::format("'{}' is no time", expr.text),
                    "write a time such as '8 s', or the name of a tunable that is one");
    return std::nullopt;
  }

  std::optional<Picoseconds> read_sum(const Expr& expr) {
    Picoseconds sum = 0;
    for (const Expr& operand : expr.operands) {
      const auto length = read(operand);
      if (!length) {
        return std::nullopt;
      }
      sum += *length;
      if (sum > longest_length || sum < -longest_length) {
        return sum;
      }
    }
    return sum;
  }

  // One time, and plain numbers.
  std::optional<Picoseconds> read_product(const Expr& expr) {
    const Expr* time = nullptr;
    for (const Expr& operand : expr.operands) {
      const bool plain = operand.op == Op::quantity && operand.text.empty();
      if (plain) {
        continue;
      }
      if (time != nullptr) {
        context_.report(Code::wrong_unit, operand.place, "a time can be multiplied by plain numbers only");
        return std::nullopt;
      }
      time = &operand;
    }
    auto length = time == nullptr ? read(expr.operands[0]) : read(*time);
    for (const Expr& operand : expr.operands) {
      if (length && &operand != time) {
        length = scale(*length, operand);
      }
    }
    return length;
  }

  std::optional<Picoseconds> scale(Picoseconds length, const Expr& factor) {
    const Picoseconds divisor = power_of_ten(factor.number.decimals);
    Picoseconds product = 0;
    if (__builtin_mul_overflow(length, Picoseconds{factor.number.digits}, &product)) {
      return longest_length + 1;
    }
    if (product % divisor != 0) {
      context_.report(Code::not_whole_ticks, factor.place,
                      "this factor does not give a whole number of ticks");
      return std::nullopt;
    }
    return product / divisor;
  }

  const Scope& scope_;
  CheckContext& context_;
  int depth_ = 0;
};

std::string ticks_text(Value ticks) {
  return fmt::format("{} tick{}", ticks, ticks == 1 ? "" : "s");
}

void report_broken_ticks(const Expr& expr, Picoseconds length, Value least, CheckContext& context) {
  const auto below = static_cast<Value>(length / context.tick);
  const auto said = [&](Value ticks) {
    return fmt::format("{} ({})", duration_text(ticks * context.tick), ticks_text(ticks));
  };
  const std::string mend = below < least ? fmt::format("write {}", said(below + 1))
                                         : fmt::format("write {} or {}", said(below), said(below + 1));
  context.report(Code::not_whole_ticks, expr.place,
                 fmt::format("{} is not a whole number of ticks of {}", duration_text(length),
                             duration_text(context.tick)),
                 mend);
}

}  // namespace

std::optional<Picoseconds> length_of(const Expr& expr, const Scope& scope, CheckContext& context) {
  return LengthReader(scope, context).read(expr);
}

std::optional<Value> ticks_of(const Expr& expr, const Scope& scope, Value least, CheckContext& context) {
  const auto length = length_of(expr, scope, context);
  if (!length || context.tick == 0) {
    return std::nullopt;
  }
  if (*length < 0) {
    context.report(Code::bad_duration, expr.place, "this time is less than nothing",
                   "use a time from 1 tick on");
    return std::nullopt;
  }
  if (*length / context.tick > longest_duration) {
    context.report(Code::bad_duration, expr.place,
                   fmt::format("{} is longer than any time that can be checked", duration_text(*length)),
                   fmt::format("use at most {} ticks ({})", longest_duration,
                               duration_text(longest_duration * context.tick)));
    return std::nullopt;
  }
  if (*length % context.tick != 0) {
    report_broken_ticks(expr, *length, least, context);
    return std::nullopt;
  }
  const auto ticks = static_cast<Value>(*length / context.tick);
  if (ticks < least) {
    context.report(
        Code::bad_duration, expr.place, "a time of nothing does nothing here",
        fmt::format("use at least {} ({})", ticks_text(least), duration_text(least * context.tick)));
    return std::nullopt;
  }
  return ticks;
}

bool looks_like_time(const Expr& expr, const Scope& scope) {
  if (expr.op == Op::quantity) {
    return is_time_unit(expr.text) && !is_level_unit(expr.text);
  }
  if (expr.op == Op::name) {
    const Bound* bound = find(scope, expr.text);
    if (bound == nullptr) {
      return false;
    }
    const auto* tunable = std::get_if<TunableBinding>(&bound->binding);
    // A tunable names no other tunable (the checker forbids it), so this ends.
    return std::holds_alternative<DurationBinding>(bound->binding) ||
           (tunable != nullptr &&
            std::get<TunableDeclaration>(tunable->declaration->body).value.op != Op::name &&
            looks_like_time(std::get<TunableDeclaration>(tunable->declaration->body).value, scope));
  }
  for (const Expr& operand : expr.operands) {
    if (looks_like_time(operand, scope)) {
      return true;
    }
  }
  return false;
}

}  // namespace detent::dsl
