// Values and times in words.
#include "dsl/model.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace detent::dsl {
namespace {

/// value / 10^decimals, without trailing zeros behind the point.
std::string decimal_text(Value value, int decimals) {
  std::string digits = std::to_string(value < 0 ? -value : value);
  const auto places = static_cast<std::size_t>(decimals);
  if (digits.size() <= places) {
    digits.insert(0, places + 1 - digits.size(), '0');
  }
  std::string fraction = digits.substr(digits.size() - places);
  digits.resize(digits.size() - places);
  fraction.erase(std::find_if(fraction.rbegin(), fraction.rend(), [](char c) { return c != '0'; }).base(),
                 fraction.end());
  return fmt::format("{}{}{}{}", value < 0 ? "-" : "", digits, fraction.empty() ? "" : ".", fraction);
}

constexpr std::int64_t ms = 1'000;
constexpr std::int64_t s = 1'000 * ms;
constexpr std::int64_t minute = 60 * s;

}  // namespace

std::string to_text(Value value, const Sort& sort) {
  switch (sort.kind) {
    case SortKind::level:
      return decimal_text(value, sort.decimals) + (sort.unit.empty() ? "" : " " + sort.unit);
    case SortKind::position:
    case SortKind::condition:
      if (value >= 0 && static_cast<std::size_t>(value) < sort.positions.size()) {
        return sort.positions[static_cast<std::size_t>(value)];
      }
      return value != 0 ? "on" : "off";
  }
  return std::to_string(value);
}

std::string time_text(Value ticks, std::int64_t tick_us) {
  const std::int64_t us = ticks * tick_us;
  if (us == 0) {
    return "0 s";
  }
  if (us < ms) {
    return fmt::format("{} us", us);
  }
  if (us < s) {
    return decimal_text(us, 3) + " ms";
  }
  if (us < 2 * minute) {
    return decimal_text(us, 6) + " s";
  }
  const std::string rest = us % minute == 0 ? "" : " " + decimal_text(us % minute, 6) + " s";
  return fmt::format("{} min{}", us / minute, rest);
}

}  // namespace detent::dsl
