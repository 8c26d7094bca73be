#include "cli/time_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/decimal.hpp"
#include "cli/words.hpp"
#include "dsl/units.hpp"

namespace detent::cli {
namespace {

using dsl::Value;

constexpr const char* mend = "write a time with its unit or a number of ticks, for example 0.5 s or 12 ticks";

bool is_digit(char letter) {
  return letter >= '0' && letter <= '9';
}

std::size_t number_length(std::string_view text) {
  return std::min(text.find_first_not_of("0123456789."), text.size());
}

std::size_t word_length(std::string_view text) {
  const auto* end = std::find_if(text.begin(), text.end(),
                                 [](char letter) { return letter < 'A' || letter > 'z' || letter == '_'; });
  return static_cast<std::size_t>(end - text.begin());
}

struct Parts {
  Decimal number;
  std::string_view unit;
};

/// "12 ticks" or "tick 12", to the last letter.
std::optional<Parts> split(std::string_view text) {
  text = trimmed(text);
  const bool tick_first = text.starts_with("tick ");
  if (tick_first) text = trimmed(text.substr(5));
  const std::size_t length = number_length(text);
  const std::optional<Decimal> number = read_decimal(text.substr(0, length));
  const std::string_view unit = trimmed(text.substr(length));
  if (!number || text.front() == '.' || (tick_first && !unit.empty())) return std::nullopt;
  return Parts{*number, tick_first ? std::string_view("ticks") : unit};
}

template <class T>
Reading<T> no_time(std::string_view text) {
  constexpr std::size_t most = 60;
  return {.problem = fmt::format("'{}{}' is no time", text.substr(0, most), text.size() > most ? "…" : ""),
          .mend = mend};
}

Reading<Value> too_long(std::int64_t tick_us) {
  return {
      .problem = "that is longer than a run may be",
      .mend = fmt::format("write at most {} ticks ({})", longest_run, dsl::time_text(longest_run, tick_us))};
}

}  // namespace

std::optional<std::string_view> take_time(std::string_view& text) {
  std::size_t length = 0;
  if (text.starts_with("tick ")) {
    length = std::min(text.find_first_not_of(' ', 5), text.size());
    length += number_length(text.substr(length));
  } else if (!text.empty() && is_digit(text.front())) {
    length = number_length(text);
    const std::size_t unit = std::min(text.find_first_not_of(' ', length), text.size());
    const std::size_t letters = word_length(text.substr(unit));
    if (dsl::is_time_unit(text.substr(unit, letters))) length = unit + letters;
  } else {
    return std::nullopt;
  }
  const std::string_view time = text.substr(0, length);
  text = trimmed(text.substr(length));
  return time;
}

std::optional<std::int64_t> unit_nanoseconds(std::string_view unit, std::int64_t tick_us) {
  constexpr dsl::Picoseconds in_us = 1'000'000;
  const std::optional<dsl::Picoseconds> length = dsl::unit_length(unit, tick_us * in_us);
  return length ? std::optional(static_cast<std::int64_t>(*length / 1'000)) : std::nullopt;
}

Reading<Value> read_moment(std::string_view text, std::int64_t tick_us) {
  const std::optional<Parts> parts = split(text);
  const auto unit = parts ? unit_nanoseconds(parts->unit, tick_us) : std::nullopt;
  if (!unit) return no_time<Value>(text);
  const std::int64_t tick = tick_us * 1'000;
  const std::optional<Scaled> time = scaled(parts->number, *unit);
  if (!time || time->value / tick > longest_run) return too_long(tick_us);
  if (time->exact && time->value % tick == 0) return {.value = time->value / tick};
  const Value below = time->value / tick;
  return {.problem = fmt::format("{} is not a whole number of ticks (a tick is {})", trimmed(text),
                                 dsl::time_text(1, tick_us)),
          .mend = fmt::format("write {} or {}", dsl::time_text(below, tick_us),
                              dsl::time_text(below + 1, tick_us))};
}

Reading<std::int64_t> read_nanoseconds(std::string_view text, std::int64_t tick_us) {
  constexpr std::int64_t year = 31'557'600'000'000'000;
  const std::optional<Parts> parts = split(text);
  const auto unit = parts ? unit_nanoseconds(parts->unit, tick_us) : std::nullopt;
  if (!unit) return no_time<std::int64_t>(text);
  const std::optional<Scaled> time = scaled(parts->number, *unit);
  if (!time || time->value > year || !time->exact) {
    return {.problem = fmt::format("'{}' is too long a time, or too finely cut", text.substr(0, 60)),
            .mend = "write whole nanoseconds, and at most a year"};
  }
  return {.value = time->value};
}

std::string nanoseconds_words(std::int64_t ns) {
  constexpr std::int64_t second = 1'000'000'000;
  const std::int64_t size = ns < 0 ? -ns : ns;
  std::string text = fmt::format("{}{}.{:09}", ns < 0 ? "-" : "", size / second, size % second);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text + " s";
}

}  // namespace detent::cli
