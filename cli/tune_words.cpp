#include "cli/tune_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <vector>

#include "cli/words.hpp"

namespace detent::cli {

using solver::Standing;

std::string standing_words(Standing standing) {
  switch (standing) {
    case Standing::holds:
      return "holds";
    case Standing::fails:
      return "FAILS";
    case Standing::no_design:
      return "no design";
    case Standing::no_run:
      return "no run";
    case Standing::undecided:
      return "undecided";
    case Standing::open:
      return "not looked at";
  }
  return "";
}

Style style_of(Standing standing) {
  if (standing == Standing::holds) return Style::good;
  return standing == Standing::fails ? Style::bad : Style::unsure;
}

std::string limit_reason(solver::Limit limit) {
  switch (limit) {
    case solver::Limit::time:
      return "the time allowed by --timeout was over";
    case solver::Limit::memory:
      return "the memory allowed by --memory was used up";
    case solver::Limit::interrupted:
      return "you stopped it, or the time allowed by --total-timeout was over";
    case solver::Limit::run_too_long:
      return "there is a run, but it is too long to be played again";
    default:
      return "the solver gave up";
  }
}

std::string point_words(const TuneStudy& study, std::size_t point, std::int64_t tick_us) {
  if (study.axes.size() == 1) return dsl::value_text(study.axes[0].tunable, study.value(0, point), tick_us);
  std::vector<std::string> parts;
  for (std::size_t axis = 0; axis < study.axes.size(); ++axis) {
    const dsl::Tunable& tunable = study.axes[axis].tunable;
    parts.push_back(tunable.name + " " + dsl::value_text(tunable, study.value(axis, point), tick_us));
  }
  return fmt::format("{}", fmt::join(parts, ", "));
}

std::string remark_words(const TuneStudy& study, const dsl::Compiled& compiled, const TuneInterval& one) {
  const std::string size = count_words(one.last - one.first + 1, "value");
  if (one.standing == Standing::no_run) return size + "; the assumptions contradict each other";
  if (one.standing == Standing::no_design) {
    const dsl::Tried tried = design_at(study, compiled, one.first);
    return tried.errors.empty()
               ? size
               : fmt::format("{}; {}: {}", size, line_words(compiled.sources, tried.errors.front().place),
                             tried.errors.front().message);
  }
  if (one.standing != Standing::fails && one.standing != Standing::undecided) return size;
  std::vector<std::string> names;
  for (std::size_t point = one.first; point <= one.last; ++point) {
    const std::string& name = compiled.model->claims[study.at(point).claim].name;
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  }
  return fmt::format("{}; {}", size, list_words(names, 5));
}

}  // namespace detent::cli
