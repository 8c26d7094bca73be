#include "tests/support/design_generator.hpp"

#include <fmt/format.h>

#include <sstream>
#include <vector>

#include "tests/support/random_elements.hpp"

namespace detent::test {
namespace {

constexpr std::size_t most_input_values = 24;  // in one tick, all inputs together

class DesignGenerator {
 public:
  explicit DesignGenerator(std::uint64_t seed) : chance_(seed) {}

  std::string run() {
    lines_.emplace_back("tick 20 ms");
    settings();
    if (chance_.one_in(2)) parts();
    inputs();
    elements();
    assumptions();
    claims();
    return fmt::format("{}\n", fmt::join(lines_, "\n"));
  }

 private:
  void settings() {
    if (chance_.one_in(4)) lines_.insert(lines_.begin(), "design \"made by chance\"");
    const std::vector<std::string> rules{"counted", "ignored", "either"};
    if (chance_.one_in(2)) lines_.push_back("power_up edges " + chance_.pick(rules));
    if (chance_.one_in(2)) {
      lines_.push_back(
          fmt::format("tunable patience = {} ms from 20 ms to 60 ms", 20 * chance_.between(1, 3)));
      names_.durations.emplace_back("patience");
    }
    if (chance_.one_in(3)) {
      lines_.push_back(
          fmt::format("tunable limit \"a level to try\" = {} % from 0 % to 3 %", chance_.between(0, 3)));
      names_.levels.push_back({"limit", "%"});
    }
  }

  // ---- parts ----
  void parts() {
    for (std::size_t number = 0, count = 1 + chance_.below(2); number < count; ++number) part(number);
  }

  void part(std::size_t number) {
    KnownPart made;
    made.name = fmt::format("PART{}", number);
    made.has_level = chance_.one_in(2);
    made.has_count = chance_.one_in(2);
    made.has_duration = chance_.one_in(2);
    Vocabulary inner;
    inner.conditions.emplace_back("x");
    inner.durations = names_.durations;
    inner.levels = names_.levels;
    const Vocabulary given = inner;
    std::string parameters = "condition x";
    if (made.has_level) add_parameter(parameters, "level y", inner.levels, {"y", "%"});
    if (made.has_count) add_parameter(parameters, "count n", inner.levels, {"n", ""});
    if (made.has_duration) add_parameter(parameters, "duration t", inner.durations, std::string("t"));
    const std::size_t before_levels = inner.levels.size();
    std::string text = fmt::format("part {}({})", made.name, parameters);
    RandomElements elements(chance_, inner, parts_, "e");
    for (const std::string& line : elements.declare(1 + chance_.below(3))) text += "\n  " + line;
    if (chance_.one_in(2)) text += "\n  claim inside: " + body(inner, true);
    lines_.push_back(text + "\nend");
    made.offers.conditions.assign(inner.conditions.begin() + 1, inner.conditions.end());
    made.offers.levels.assign(inner.levels.begin() + static_cast<std::ptrdiff_t>(before_levels),
                              inner.levels.end());
    made.offers.positions = inner.positions;
    parts_.push_back(made);
  }

  template <typename Known>
  static void add_parameter(std::string& parameters, const std::string& text, std::vector<Known>& all,
                            const Known& one) {
    parameters += ", " + text;
    all.push_back(one);
  }

  // ---- inputs ----
  /// Whether there is room for an input with so many values.
  bool takes(std::size_t values) {
    if (input_values_ * values > most_input_values) return false;
    input_values_ *= values;
    return true;
  }

  void inputs() {
    std::vector<std::string> carried;
    if (takes(2)) button("go");
    if (chance_.one_in(2) && channel("stick")) carried.emplace_back("stick");
    if (chance_.one_in(2) && takes(2)) {
      button("stop");
      carried.emplace_back("stop");
    }
    if (chance_.one_in(2) && switches()) carried.emplace_back("guard");
    if (chance_.one_in(3)) channel("knob");
    if (!carried.empty() && chance_.one_in(2) && takes(2)) link(carried);
  }

  void button(const std::string& name) {
    lines_.push_back("button " + name);
    names_.conditions.push_back(name);
    names_.buttons.push_back(name);
  }

  bool channel(const std::string& name) {
    struct Travel {
      std::size_t values;
      std::string text;
      dsl::Range whole;
      std::string rate;
    };
    const std::vector<Travel> travels{
        {3, "from -1 % to 1 %", {-1, 1}, " moving at most 1 % per tick"},
        {4, "from 0 % to 3 % step 1 %", {0, 3}, " moving at most 50 % per s"},
        {5, "from -2 % to 2 % step 1 %", {-2, 2}, " moving at most 2 % per tick"},
        {4, "from -2 % to 4 % step 2 %", {-2, 4}, " moving at most 2 % per tick"},
        {4, "from 0 % to 1.5 % step 0.5 %", {0, 1}, " moving at most 0.5 % per tick"},
    };
    const Travel& travel = chance_.pick(travels);
    if (!takes(travel.values)) return false;
    lines_.push_back(fmt::format("channel {} {}{}", name, travel.text, chance_.one_in(3) ? travel.rate : ""));
    names_.levels.push_back({name, "%", travel.whole});
    if (name == "stick") stick_may_be_lost_at_ = travel.whole.high == 4 ? 2 : 1;
    return true;
  }

  bool switches() {
    const std::vector<std::string> words = chance_.one_in(2)
                                               ? std::vector<std::string>{"safe", "run"}
                                               : std::vector<std::string>{"low", "half", "high"};
    if (!takes(words.size())) return false;
    lines_.push_back(fmt::format("switch guard is {}", fmt::join(words, " | ")));
    names_.positions.push_back({"guard", words, true});
    return true;
  }

  void link(const std::vector<std::string>& carried) {
    std::vector<std::string> lost;
    for (const std::string& name : carried) {
      if (name == "stick")
        lost.push_back(fmt::format("stick {} %", stick_may_be_lost_at_ * chance_.between(0, 1)));
      if (name == "stop") lost.emplace_back(chance_.one_in(2) ? "stop pressed" : "stop released");
      if (name == "guard") lost.push_back("guard " + chance_.pick(names_.positions.front().words));
    }
    lines_.push_back(fmt::format("link radio carries {} lost: {}", fmt::join(carried, ", "),
                                 chance_.one_in(2) ? "as before" : fmt::format("{}", fmt::join(lost, ", "))));
    names_.links.emplace_back("radio");
  }

  // ---- the rest ----
  void elements() {
    RandomElements elements(chance_, names_, parts_, "e");
    for (std::string& line : elements.declare(2 + chance_.below(6))) lines_.push_back(std::move(line));
  }

  std::string body(const Vocabulary& names, bool safety_only) {
    RandomExpressions expressions(chance_, names);
    const std::string p = expressions.condition(2);
    const std::string q = expressions.condition(2);
    const std::string t = expressions.duration();
    switch (chance_.below(safety_only ? 11 : 13)) {
      case 0:
        return "always " + p;
      case 1:
        return "never " + p;
      case 2:
        return fmt::format("never {} while {}", p, q);
      case 3:
        return fmt::format("whenever {}: {}", p, q);
      case 4:
        return fmt::format("whenever {}: {} within {}", p, q, chance_.one_in(5) ? "0 ms" : t);
      case 5:
        return fmt::format("whenever {}: {} for {}", p, q, t);
      case 6:
        return fmt::format("{} only within {} after {}", p, chance_.one_in(5) ? "0 ms" : t, q);
      case 7:
        return fmt::format("{} only after {}", p, q);
      case 8:
        return fmt::format("{} only while {}", p, q);
      case 9:
        return fmt::format("{} lasts at least {}", p, t);
      case 10:
        return fmt::format("{} lasts at most {}", p, t);
      case 11:
        return "possible " + p;
      default:
        return fmt::format("possible {} within {}", p, t);
    }
  }

  void assumptions() {
    if (chance_.one_in(6)) {
      lines_.push_back("at power_up: " + RandomExpressions(chance_, names_).condition(1));
    }
    for (std::size_t number = 0, count = chance_.below(3); number < count && chance_.one_in(2); ++number) {
      lines_.push_back(fmt::format("assume a{}: {}", number, body(names_, true)));
    }
  }

  void claims() {
    for (std::size_t number = 0, count = 2 + chance_.below(4); number < count; ++number) {
      lines_.push_back(fmt::format("claim c{}{}: {}", number, chance_.one_in(3) ? " \"so it should be\"" : "",
                                   body(names_, false)));
    }
  }

  Chance chance_;
  dsl::Value stick_may_be_lost_at_ = 1;  ///< one of its levels; 0 is another
  Vocabulary names_;
  std::vector<KnownPart> parts_;
  std::vector<std::string> lines_;
  std::size_t input_values_ = 1;
};

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

/// Leaves out stretches of `size` lines wherever the text still fails.
bool leave_out(std::vector<std::string>& lines, std::size_t size,
               const std::function<bool(const std::string&)>& fails) {
  bool shorter = false;
  for (std::size_t first = 0; first + size <= lines.size();) {
    std::vector<std::string> fewer = lines;
    const auto begin = fewer.begin() + static_cast<std::ptrdiff_t>(first);
    fewer.erase(begin, begin + static_cast<std::ptrdiff_t>(size));
    if (fails(fmt::format("{}\n", fmt::join(fewer, "\n")))) {
      lines = std::move(fewer);
      shorter = true;
    } else {
      ++first;
    }
  }
  return shorter;
}

}  // namespace

std::string random_design(std::uint64_t seed) {
  return DesignGenerator(seed).run();
}

std::string shrunk(const std::string& text, const std::function<bool(const std::string&)>& fails) {
  std::vector<std::string> lines = lines_of(text);
  for (bool shorter = true; shorter;) {
    shorter = false;
    for (std::size_t size = lines.size() / 2; size > 0; --size) {
      shorter = leave_out(lines, size, fails) || shorter;
    }
  }
  return fmt::format("{}\n", fmt::join(lines, "\n"));
}

}  // namespace detent::test
