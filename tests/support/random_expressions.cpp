#include "tests/support/random_expressions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <initializer_list>
#include <string_view>

namespace detent::test {
namespace {

constexpr int longest_ticks = 6;

/// The pattern with each {} filled in. The parts stand in a braced list, because only there does C++ say in
/// which order they are made, and so which of them gets which choice.
std::string say(std::string_view pattern, std::initializer_list<std::string> parts) {
  std::string text;
  for (const std::string& part : parts) {
    const std::size_t gap = pattern.find("{}");
    text += pattern.substr(0, gap);
    text += part;
    pattern.remove_prefix(gap + 2);
  }
  return text.append(pattern);
}

std::string with_unit(std::int64_t number, const std::string& unit) {
  return unit.empty() ? std::to_string(number) : say("{} {}", {std::to_string(number), unit});
}

std::string joined(const std::vector<std::string>& parts, const std::string& between) {
  return fmt::format("({})", fmt::join(parts, between));
}

}  // namespace

std::string RandomExpressions::constant(const std::string& unit, std::int64_t low, std::int64_t high) {
  return with_unit(chance_.between(low, high), unit);
}

std::string RandomExpressions::duration() {
  const auto ticks = chance_.between(1, longest_ticks);
  switch (chance_.below(names_.durations.empty() ? 4 : 6)) {
    case 0:
      return fmt::format("{} ms", ticks * 20);
    case 1:
      return fmt::format("0.{:02} s", ticks * 2);
    case 2:
    case 3:
      return ticks == 1 ? "1 tick" : fmt::format("{} ticks", ticks);
    case 4:
      return chance_.pick(names_.durations);
    default:
      return say("{} + {} ms", {chance_.pick(names_.durations), std::to_string(20 * chance_.between(1, 3))});
  }
}

// ---- conditions ----

std::string RandomExpressions::condition_name() {
  if (!names_.later_conditions.empty() && chance_.one_in(6)) {
    return say("previous({})", {chance_.pick(names_.later_conditions)});
  }
  if (!names_.links.empty() && chance_.one_in(6)) {
    return say("({} {} lost)", {chance_.pick(names_.links), chance_.one_in(3) ? "is not" : "is"});
  }
  if (!names_.buttons.empty() && chance_.one_in(8)) {
    const std::string& button = chance_.pick(names_.buttons);
    return chance_.one_in(2) ? say("hand({})", {button})
                             : say("({} is {})", {button, chance_.one_in(2) ? "pressed" : "released"});
  }
  if (chance_.one_in(25)) return chance_.one_in(2) ? "true" : "false";
  return chance_.pick(names_.conditions);
}

std::string RandomExpressions::condition(int depth) {
  if (depth <= 0) return condition_name();
  switch (chance_.below(9)) {
    case 0:
      return condition_name();
    case 1:
    case 2:
      return junction(depth);
    case 3:
      return comparison(depth);
    case 4:
      return names_.positions.empty() ? comparison(depth) : about_position(depth);
    case 5:
      return remembered(depth);
    case 6:
      return hysteresis(depth);
    default:
      return over_time(depth);
  }
}

// Some without brackets, so that the order of precedence is used too.
std::string RandomExpressions::junction(int depth) {
  const auto one = [&] { return condition(depth - 1); };
  switch (chance_.below(9)) {
    case 0:
      return joined({one(), one()}, " and ");
    case 1:
      return joined({one(), one(), one()}, " or ");
    case 2:
      return joined({one(), one()}, " xor ");
    case 3:
      return joined({one(), one(), one()}, " implies ");
    case 4:
      return say("(not {})", {one()});
    case 5:
      return say("({} or {} and not {})", {one(), one(), one()});
    case 6:
      return say("({} xor {} or {})", {one(), one(), one()});
    case 7:
      return say("(if {} then {} else {})", {one(), one(), one()});
    default:
      return say("({} {} {})", {one(), chance_.one_in(2) ? "==" : "!=", one()});
  }
}

std::vector<LevelName> RandomExpressions::channels() const {
  std::vector<LevelName> found;
  std::copy_if(names_.levels.begin(), names_.levels.end(), std::back_inserter(found),
               [](const LevelName& level) { return level.channel.has_value(); });
  return found;
}

std::string RandomExpressions::compare(const std::string& left, const std::string& right) {
  const std::vector<std::string> signs{"==", "!=", "<", "<=", ">", ">="};
  return say("({} {} {})", {left, chance_.pick(signs), right});
}

// A channel by itself is only compared with levels that it can have: anything else is a mistake in a design.
std::string RandomExpressions::comparison(int depth) {
  const std::vector<LevelName> sticks = channels();
  if (!sticks.empty() && chance_.one_in(2)) {
    const LevelName& stick = chance_.pick(sticks);
    const std::string level = constant(stick.unit, stick.channel->low, stick.channel->high);
    const std::string name = chance_.one_in(4) ? say("hand({})", {stick.name}) : stick.name;
    return chance_.one_in(3) ? compare(level, name) : compare(name, level);
  }
  const std::string unit = names_.levels.empty() ? "" : chance_.pick(names_.levels).unit;
  const std::string left = level(unit, depth - 1);
  return compare(left, level(unit, depth - 1));
}

std::string RandomExpressions::position(const PositionName& positions, int depth) {
  switch (chance_.below(depth <= 0 ? 2 : 5)) {
    case 0:
      return say("previous({}, starting {})", {positions.name, chance_.pick(positions.words)});
    case 1:
      return positions.by_hand ? say("hand({})", {positions.name}) : positions.name;
    case 2:
      return say("(if {} then {} else {})",
                 {condition(depth - 1), position(positions, depth - 1), positions.name});
    default:
      return positions.name;
  }
}

std::string RandomExpressions::about_position(int depth) {
  const PositionName& positions = chance_.pick(names_.positions);
  switch (chance_.below(4)) {
    case 0:
      return say("({} {} {})", {position(positions, depth - 1),
                                chance_.one_in(2) ? "==" : "!=", position(positions, depth - 1)});
    case 1:
      return say("changes({})", {position(positions, depth - 1)});
    default:
      return say("({} {} {})",
                 {positions.name, chance_.one_in(3) ? "is not" : "is", chance_.pick(positions.words)});
  }
}

std::string RandomExpressions::over_time(int depth) {
  const auto one = [&] { return condition(depth - 1); };
  switch (chance_.below(7)) {
    case 0:
      return say("rises({})", {one()});
    case 1:
      return say("falls({})", {one()});
    case 2:
      return say("changes({})", {one()});
    case 3:
      return say("held({}, {})", {one(), duration()});
    case 4:
      return say("recently({}, {})", {one(), duration()});
    case 5:
      return say("changes({})",
                 {level(names_.levels.empty() ? "" : chance_.pick(names_.levels).unit, depth - 1)});
    default:
      return say("since({}, {})", {one(), one()});
  }
}

std::string RandomExpressions::remembered(int depth) {
  const std::string what = condition(depth - 1);
  return chance_.one_in(2) ? say("previous({})", {what})
                           : say("previous({}, starting {})", {what, chance_.one_in(2) ? "true" : "false"});
}

std::string RandomExpressions::hysteresis(int depth) {
  const std::vector<LevelName> sticks = channels();
  const bool stick = !sticks.empty() && chance_.one_in(2);
  const LevelName& channel = stick ? chance_.pick(sticks) : LevelName{"", "%", dsl::Range{-2, 4}};
  auto first = chance_.between(channel.channel->low, channel.channel->high);
  auto second = chance_.between(channel.channel->low, channel.channel->high);
  const bool below = chance_.one_in(2);
  if (below ? first > second : first < second) std::swap(first, second);
  return say("{}({}, {}, until {})",
             {below ? "below" : "above", stick ? channel.name : level(channel.unit, depth - 1),
              with_unit(first, channel.unit), with_unit(second, channel.unit)});
}

// ---- levels ----

// Never a channel alone: see comparison().
std::string RandomExpressions::level_name(const std::string& unit) {
  if (unit.empty() && !names_.later_counts.empty() && chance_.one_in(4)) {
    return say("previous({}, starting 0)", {chance_.pick(names_.later_counts)});
  }
  std::vector<LevelName> known;
  std::copy_if(names_.levels.begin(), names_.levels.end(), std::back_inserter(known),
               [&](const LevelName& level) { return level.unit == unit; });
  if (known.empty() || chance_.one_in(5)) return say("({})", {constant(unit)});
  const LevelName& level = chance_.pick(known);
  if (!level.channel) return level.name;
  switch (chance_.below(4)) {
    case 0:
      return say("abs({})", {level.name});
    case 1:
      return say("(hand({}) + {})", {level.name, constant(unit, 0, 2)});
    case 2:
      return say("({} - {})", {level.name, constant(unit, 0, 2)});
    default:
      return say("(0.5 * {})", {level.name});
  }
}

std::string RandomExpressions::level(const std::string& unit, int depth) {
  if (depth <= 0 || chance_.one_in(3)) return level_name(unit);
  return level_from_levels(unit, depth);
}

std::string RandomExpressions::level_from_levels(const std::string& unit, int depth) {
  const auto one = [&] { return level(unit, depth - 1); };
  switch (chance_.below(9)) {
    case 0:
      return say("({} + {})", {one(), one()});
    case 1:
      return say("({} - {} + {})", {one(), one(), constant(unit, 0, 2)});
    case 2:
      return say("(-{})", {level_name(unit)});
    case 3:
      return say("({} * {})", {constant("", -2, 3), one()});
    case 4:
      return say("min({}, {})", {one(), one()});
    case 5:
      return say("max({}, {}, {})", {one(), one(), constant(unit)});
    case 6:
      return say("abs({})", {one()});
    case 7:
      return say("previous({}, starting {})", {one(), constant(unit)});
    default:
      return say("(if {} then {} else {})", {condition(depth - 1), one(), one()});
  }
}

}  // namespace detent::test
