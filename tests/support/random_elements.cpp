#include "tests/support/random_elements.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace detent::test {
namespace {

constexpr int depth = 2;

}  // namespace

std::vector<std::string> RandomElements::declare(std::size_t count) {
  plan(count);
  std::vector<std::string> texts;
  for (std::size_t index = 0; index < plan_.size(); ++index) {
    look_ahead(index);
    texts.push_back(declaration(plan_[index]));
  }
  look_ahead(plan_.size());
  return texts;
}

void RandomElements::plan(std::size_t count) {
  constexpr std::size_t kinds = static_cast<std::size_t>(Kind::use) + 1;
  while (plan_.size() < count) {
    const Kind kind = static_cast<Kind>(chance_.below(kinds));
    const bool can_be =
        (kind != Kind::use || !parts_.empty()) &&
        ((kind != Kind::position && kind != Kind::kept_position) || !names_.positions.empty());
    if (can_be) plan_.push_back({kind, fmt::format("{}{}", prefix_, plan_.size())});
  }
}

// What is declared from here on may be looked at one tick back already.
void RandomElements::look_ahead(std::size_t from) {
  names_.later_conditions.clear();
  names_.later_counts.clear();
  for (std::size_t index = from; index < plan_.size(); ++index) {
    switch (plan_[index].kind) {
      case Kind::gate:
      case Kind::pulse:
      case Kind::delay:
      case Kind::linger:
      case Kind::latch:
      case Kind::kept_condition:
      case Kind::output_condition:
        names_.later_conditions.push_back(plan_[index].name);
        break;
      case Kind::counter:
      case Kind::sum:
        names_.later_counts.push_back(plan_[index].name);
        break;
      default:
        break;
    }
  }
}

std::string RandomElements::doc() {
  return chance_.one_in(4) ? " \"says what it is for\"" : "";
}

std::string RandomElements::declaration(const Planned& planned) {
  RandomExpressions expressions(chance_, names_);
  const std::string& name = planned.name;
  switch (planned.kind) {
    case Kind::gate: {
      const std::string text = fmt::format("signal {} = {}", name, expressions.condition(depth + 1));
      add_condition(name);
      return text;
    }
    case Kind::level: {
      const std::string unit = chance_.one_in(2) ? "%" : "";
      const std::string text = fmt::format("signal {} = {}", name, expressions.level(unit, depth));
      names_.levels.push_back({name, unit});
      return text;
    }
    case Kind::position: {
      const PositionName from = chance_.pick(names_.positions);
      const std::string text = fmt::format("signal {} = {}", name, expressions.position(from, depth));
      names_.positions.push_back({name, from.words});
      return text;
    }
    case Kind::pulse:
      return pulse(name);
    case Kind::delay:
    case Kind::linger:
      return clock(planned);
    case Kind::latch:
      return latch(name);
    case Kind::counter:
      return counter(name);
    case Kind::kept_condition:
    case Kind::kept_level:
    case Kind::kept_position:
      return kept(planned);
    case Kind::sum:
      return sum(name);
    case Kind::stages:
      return stages(name);
    case Kind::output_level:
    case Kind::output_condition:
      return output(planned);
    case Kind::use:
      return use(name);
  }
  return "";
}

std::string RandomElements::clock(const Planned& planned) {
  RandomExpressions expressions(chance_, names_);
  std::string text =
      fmt::format("{} {}{} on ", planned.kind == Kind::delay ? "delay" : "linger", planned.name, doc());
  text += expressions.condition(depth);
  text += " for " + expressions.duration();
  add_condition(planned.name);
  return text;
}

std::string RandomElements::pulse(const std::string& name) {
  RandomExpressions expressions(chance_, names_);
  std::string text = fmt::format("pulse {}{} on ", name, doc());
  text += expressions.condition(depth);
  text += " for " + expressions.duration();
  if (chance_.one_in(3)) text += " restarting";
  if (chance_.one_in(3)) text += " cancelled by " + expressions.condition(depth - 1);
  add_condition(name);
  return text;
}

std::string RandomElements::latch(const std::string& name) {
  RandomExpressions expressions(chance_, names_);
  std::string text = fmt::format("latch {}{} set ", name, doc());
  text += expressions.condition(depth);
  text += " reset " + expressions.condition(depth - 1);
  if (chance_.one_in(2)) text += chance_.one_in(3) ? " reset wins" : " set wins";
  if (chance_.one_in(3)) text += chance_.one_in(3) ? " starting off" : " starting on";
  add_condition(name);
  return text;
}

std::string RandomElements::counter(const std::string& name) {
  RandomExpressions expressions(chance_, names_);
  const auto from = chance_.between(-1, 1);
  std::string text = fmt::format("counter {}{} up ", name, doc());
  text += expressions.condition(depth);
  if (chance_.one_in(2)) text += " down " + expressions.condition(depth - 1);
  if (chance_.one_in(2)) text += " reset " + expressions.condition(depth - 1);
  text += fmt::format(" from {} to {}", from, from + chance_.between(1, 3));
  names_.levels.push_back({name, ""});
  return text;
}

std::string RandomElements::kept(const Planned& planned) {
  RandomExpressions expressions(chance_, names_);
  std::string value, start;
  std::vector<std::string> words;
  if (planned.kind == Kind::kept_condition) {
    value = expressions.condition(depth);
    start = chance_.one_in(2) ? "true" : "false";
  } else if (planned.kind == Kind::kept_level) {
    const std::string unit = chance_.one_in(2) ? "%" : "";
    value = expressions.level(unit, depth);
    start = expressions.constant(unit);
  } else {
    const PositionName from = chance_.pick(names_.positions);
    value = expressions.position(from, depth);
    start = chance_.pick(from.words);
    words = from.words;
  }
  const std::string when = expressions.condition(depth);
  if (!words.empty()) names_.positions.push_back({planned.name, words});
  if (planned.kind == Kind::kept_condition) add_condition(planned.name);
  if (planned.kind == Kind::kept_level) {
    names_.levels.push_back({planned.name, start.find('%') == std::string::npos ? "" : "%"});
  }
  return fmt::format("keep {} = {} when {} starting {}", planned.name, value, when, start);
}

// A number that looks at itself one tick back.
std::string RandomElements::sum(const std::string& name) {
  RandomExpressions expressions(chance_, names_);
  const std::string more = expressions.condition(depth);
  const std::string less = expressions.condition(depth - 1);
  std::string text = fmt::format(
      "signal {} = max(min(previous({}, starting 0) + (if {} then 1 else if {} then -1 else 0), {}), {})",
      name, name, more, less, chance_.between(1, 3), -1);
  names_.levels.push_back({name, ""});
  return text;
}

// Every stage but the first gets a line that leads to it, so that each can be reached.
std::string RandomElements::stages(const std::string& name) {
  RandomExpressions expressions(chance_, names_);
  const std::vector<std::string> all{"locked", "primed", "live", "spent"};
  const std::vector<std::string> words(all.begin(), all.begin() + chance_.between(2, 4));
  std::vector<std::pair<std::string, std::string>> moves;
  for (std::size_t to = 1; to < words.size(); ++to) moves.emplace_back(words[chance_.below(to)], words[to]);
  for (std::size_t more = chance_.below(4); more > 0; --more) {
    const std::size_t from = chance_.below(words.size());
    const std::size_t to = (from + 1 + chance_.below(words.size() - 1)) % words.size();
    moves.insert(moves.begin() + chance_.between(0, static_cast<std::int64_t>(moves.size())),
                 {chance_.one_in(3) ? "any" : words[from], words[to]});
  }
  std::string text = fmt::format("stages {}{} is {}", name, doc(), fmt::join(words, " | "));
  for (const auto& [from, to] : moves) {
    text += fmt::format("\n  {} -> {}", from, to);
    const bool after = from != "any" && chance_.one_in(2);
    if (after) text += " after " + expressions.duration();
    if (!after || chance_.one_in(3)) text += " when " + expressions.condition(depth - 1);
  }
  names_.positions.push_back({name, words});
  return text;
}

std::string RandomElements::output(const Planned& planned) {
  RandomExpressions expressions(chance_, names_);
  const bool condition = planned.kind == Kind::output_condition;
  const std::string unit = chance_.one_in(2) ? "%" : "";
  const auto one = [&] {
    return condition ? expressions.condition(depth - 1) : expressions.level(unit, depth - 1);
  };
  std::string text = fmt::format("output {}{} = ", planned.name, doc());
  text += one();
  if (chance_.one_in(2)) {
    text += " when " + expressions.condition(depth - 1);
    text += " else " + one();
  }
  if (condition) {
    add_condition(planned.name);
  } else {
    names_.levels.push_back({planned.name, unit});
  }
  return text;
}

std::string RandomElements::use(const std::string& name) {
  RandomExpressions expressions(chance_, names_);
  const KnownPart& part = chance_.pick(parts_);
  std::vector<std::string> arguments{expressions.condition(depth)};
  if (part.has_level) arguments.push_back(expressions.level("%", depth - 1));
  if (part.has_count) arguments.push_back(expressions.level("", depth - 1));
  if (part.has_duration) {
    arguments.push_back(names_.durations.empty() || chance_.one_in(2)
                            ? fmt::format("{} ticks", chance_.between(1, 3))
                            : chance_.pick(names_.durations));
  }
  for (const std::string& inner : part.offers.conditions) add_condition(name + "." + inner);
  for (const LevelName& inner : part.offers.levels)
    names_.levels.push_back({name + "." + inner.name, inner.unit});
  for (const PositionName& inner : part.offers.positions) {
    names_.positions.push_back({name + "." + inner.name, inner.words});
  }
  return fmt::format("use {} = {}({})", name, part.name, fmt::join(arguments, ", "));
}

}  // namespace detent::test
