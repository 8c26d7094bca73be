// A quantity is a decimal number and a unit. The number is kept as digits and a power of ten, so that
// 0.1 s is exactly 100000 us; the limit on digits keeps every product below within 64 bits.
#include "cli/quantities.hpp"

#include <fmt/format.h>

#include <array>
#include <string_view>

#include "cli/terminal.hpp"
#include "dsl/diagnostics.hpp"
#include "dsl/model.hpp"

namespace detent::cli {
namespace {

using dsl::Value;

constexpr std::size_t most_digits = 11;

struct Unit {
  std::string_view name;
  Value size;
};
constexpr Value second = 1'000'000;
constexpr std::array<Unit, 5> time_units{
    {{"us", 1}, {"ms", 1'000}, {"s", second}, {"min", 60 * second}, {"h", 3'600 * second}}};
constexpr std::array<Unit, 2> tick_units{{{"tick", 1}, {"ticks", 1}}};
constexpr std::array<Unit, 2> memory_units{{{"MiB", 1}, {"GiB", 1024}}};

struct Quantity {
  Value digits = 0;
  Value divisor = 1;
  std::string unit;
};

bool is_digit(char letter) {
  return letter >= '0' && letter <= '9';
}

std::string_view without_blanks(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

/// Digits with at most one point between them; nothing if there are too many for exact arithmetic.
std::optional<Quantity> split(std::string_view text) {
  text = without_blanks(text);
  Quantity quantity;
  std::size_t digits = 0;
  bool point = false;
  while (!text.empty() && (is_digit(text.front()) || (text.front() == '.' && digits > 0 && !point))) {
    if (text.front() == '.') {
      point = true;
    } else {
      quantity.digits = quantity.digits * 10 + (text.front() - '0');
      if (point) quantity.divisor *= 10;
      if (++digits > most_digits) return std::nullopt;
    }
    text.remove_prefix(1);
  }
  if (digits == 0 || (point && quantity.divisor == 1)) return std::nullopt;
  quantity.unit = std::string(without_blanks(text));
  return quantity;
}

template <std::size_t n>
std::optional<Value> unit_size(const std::array<Unit, n>& units, const std::string& name) {
  for (const Unit& unit : units) {
    if (unit.name == name) return unit.size;
  }
  return std::nullopt;
}

/// The quantity in its smallest unit, if it is a whole number of them and fits.
std::optional<Value> whole(const Quantity& quantity, Value unit) {
  Value product = 0;
  if (__builtin_mul_overflow(quantity.digits, unit, &product)) return std::nullopt;
  if (product % quantity.divisor != 0) return std::nullopt;
  return product / quantity.divisor;
}

Reading<Value> checked_ticks(Value ticks, std::int64_t tick_us) {
  if (ticks < 1) {
    return {.problem = "that is no tick at all", .mend = "write at least 1 tick"};
  }
  if (ticks > most_ticks) {
    return {
        .problem = fmt::format("{} ticks are more than can be looked at", ticks),
        .mend = fmt::format("write at most {} ticks ({})", most_ticks, dsl::time_text(most_ticks, tick_us))};
  }
  return {.value = ticks};
}

Reading<Value> between_ticks(const std::string& text, Value below, std::int64_t tick_us) {
  const std::string tick = dsl::time_text(1, tick_us);
  const std::string above = dsl::time_text(below + 1, tick_us);
  return {.problem = fmt::format("{} is not a whole number of ticks (a tick is {})", text, tick),
          .mend = below == 0 ? fmt::format("write {} or more", above)
                             : fmt::format("write {} or {}", dsl::time_text(below, tick_us), above)};
}

Reading<Value> ticks_of_time(const std::string& text, const Quantity& quantity, Value unit, Value tick_us) {
  Value product = 0;
  Value tick = 0;
  if (__builtin_mul_overflow(quantity.digits, unit, &product) ||
      __builtin_mul_overflow(quantity.divisor, tick_us, &tick)) {
    return {.problem = fmt::format("'{}' is too long a time or too finely cut", text),
            .mend = fmt::format("write at most {} ticks", most_ticks)};
  }
  const Value below = product / tick;
  const bool exact = product % tick == 0;
  return exact || below > most_ticks ? checked_ticks(below, tick_us) : between_ticks(text, below, tick_us);
}

template <class T>
Reading<T> not_a(const std::string& text, const char* what, const char* mend) {
  return {.problem = fmt::format("'{}' is not {}", text, what), .mend = mend};
}

}  // namespace

Reading<Value> read_ticks(const std::string& text, std::int64_t tick_us) {
  constexpr const char* mend =
      "write a number of ticks or a time with its unit, for example \"2000 ticks\" or \"20 s\"";
  const std::optional<Quantity> quantity = split(text);
  if (!quantity) return not_a<Value>(text, "a number of ticks or a time", mend);
  if (unit_size(tick_units, quantity->unit)) {
    const std::optional<Value> ticks = whole(*quantity, 1);
    return ticks ? checked_ticks(*ticks, tick_us) : not_a<Value>(text, "a whole number of ticks", mend);
  }
  const std::optional<Value> unit = unit_size(time_units, quantity->unit);
  if (!unit) return not_a<Value>(text, "a number of ticks or a time", mend);
  return ticks_of_time(text, *quantity, *unit, tick_us);
}

Reading<std::chrono::milliseconds> read_time(const std::string& text) {
  constexpr const char* mend = "write a time of 1 ms to 1000 h, for example 30s, 500ms or 5min";
  const std::optional<Quantity> quantity = split(text);
  const std::optional<Value> unit = quantity ? unit_size(time_units, quantity->unit) : std::nullopt;
  const std::optional<Value> time = unit ? whole(*quantity, *unit) : std::nullopt;
  constexpr Value longest = Value{1'000} * 3'600 * second;
  if (!time || *time < 1'000 || *time > longest || *time % 1'000 != 0) {
    return not_a<std::chrono::milliseconds>(text, "a time in whole milliseconds", mend);
  }
  return {.value = std::chrono::milliseconds(*time / 1'000)};
}

Reading<std::size_t> read_memory(const std::string& text) {
  constexpr const char* mend =
      "write a whole number of MiB or GiB, at least 64MiB, for example 512MiB or 2GiB";
  constexpr Value least = 64;
  constexpr Value most = Value{1024} * 1024;
  const std::optional<Quantity> quantity = split(text);
  const std::optional<Value> unit = quantity ? unit_size(memory_units, quantity->unit) : std::nullopt;
  const std::optional<Value> amount = unit ? whole(*quantity, *unit) : std::nullopt;
  if (!amount || *amount < least || *amount > most) {
    return not_a<std::size_t>(text, "an amount of memory that a limit can have", mend);
  }
  return {.value = static_cast<std::size_t>(*amount)};
}

Reading<unsigned> read_jobs(const std::string& text) {
  const std::optional<Quantity> quantity = split(text);
  const bool good = quantity && quantity->unit.empty() && quantity->divisor == 1 && quantity->digits >= 1 &&
                    quantity->digits <= static_cast<Value>(most_jobs);
  if (good) return {.value = static_cast<unsigned>(quantity->digits)};
  return {.problem = fmt::format("'{}' is not a number of threads", text),
          .mend = fmt::format("write a whole number from 1 to {}", most_jobs)};
}

Reading<Value> read_share(const std::string& text) {
  constexpr Value millionths_of_a_percent = 10'000;
  const std::optional<Quantity> quantity = split(text);
  const std::optional<Value> share =
      quantity && quantity->unit == "%" ? whole(*quantity, millionths_of_a_percent) : std::nullopt;
  if (!share || *share < 1 || *share > 100 * millionths_of_a_percent) {
    return not_a<Value>(
        text, "a share in percent",
        "write more than 0 % and at most 100 %, with at most 4 decimals, for example \"10 %\"");
  }
  return {.value = share};
}

Reading<std::size_t> read_width(const std::string& text) {
  const std::optional<Quantity> quantity = split(text);
  const bool good = quantity && quantity->unit.empty() && quantity->divisor == 1 &&
                    quantity->digits >= static_cast<Value>(narrowest_width) &&
                    quantity->digits <= static_cast<Value>(widest_width);
  if (good) return {.value = static_cast<std::size_t>(quantity->digits)};
  return {
      .problem = fmt::format("'{}' is not a width that the page can have", text),
      .mend = fmt::format("write a whole number of columns from {} to {}", narrowest_width, widest_width)};
}

}  // namespace detent::cli
