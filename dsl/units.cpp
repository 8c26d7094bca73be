#include "dsl/units.hpp"

#include <algorithm>
#include <array>

namespace detent::dsl {
namespace {

constexpr Picoseconds us = 1'000'000;

struct TimeUnit {
  std::string_view name;
  Picoseconds length;
};
constexpr std::array<TimeUnit, 5> time_units{{{"us", us},
                                              {"ms", 1'000 * us},
                                              {"s", 1'000'000 * us},
                                              {"min", 60'000'000 * us},
                                              {"h", 3'600'000'000 * us}}};

// "" is a plain number. Levels of different units are never mixed and never converted.
constexpr std::array<std::string_view, 15> level_units{"",  "%",  "us", "mm", "cm",  "m",   "deg", "V",
                                                       "A", "Hz", "N",  "kg", "bar", "rpm", "W"};

std::string decimal(Picoseconds value, Picoseconds unit) {
  std::string text;
  for (Picoseconds whole = value / unit; whole > 0 || text.empty(); whole /= 10) {
    text.insert(text.begin(), static_cast<char>('0' + static_cast<int>(whole % 10)));
  }
  Picoseconds rest = value % unit;
  if (rest != 0) {
    text += '.';
  }
  for (int digits = 0; rest != 0 && digits < 18; ++digits) {
    rest *= 10;
    text += static_cast<char>('0' + static_cast<int>(rest / unit));
    rest %= unit;
  }
  return text;
}

}  // namespace

bool is_level_unit(std::string_view unit) {
  return std::find(level_units.begin(), level_units.end(), unit) != level_units.end();
}

bool is_time_unit(std::string_view unit) {
  return unit_length(unit, 1).has_value();
}

std::optional<Picoseconds> unit_length(std::string_view unit, Picoseconds tick) {
  if (unit == "tick" || unit == "ticks") {
    return tick;
  }
  const auto* found = std::find_if(time_units.begin(), time_units.end(),
                                   [unit](const TimeUnit& known) { return known.name == unit; });
  return found == time_units.end() ? std::nullopt : std::optional(found->length);
}

std::vector<std::string> all_units() {
  std::vector<std::string> names{"tick", "ticks"};
  for (const TimeUnit& unit : time_units) {
    names.emplace_back(unit.name);
  }
  for (const std::string_view unit : level_units) {
    if (!unit.empty() && unit != "us") {
      names.emplace_back(unit);
    }
  }
  return names;
}

std::string duration_text(Picoseconds length) {
  if (length < 0) {
    return "-" + duration_text(-length);
  }
  const TimeUnit* unit = &time_units[0];
  for (const TimeUnit& candidate : time_units) {
    if (candidate.length <= length && candidate.name != "h") {
      unit = &candidate;
    }
  }
  if (unit->name == "min" && length % unit->length != 0) {
    unit = &time_units[2];
  }
  return decimal(length, unit->length) + " " + std::string(unit->name);
}

}  // namespace detent::dsl
