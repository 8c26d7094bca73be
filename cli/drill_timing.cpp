// Each movement is tried a little sooner and a little later, with all that comes after it moved along. Where
// a later step then begins or ends with another picture, the movement has to be exact, and that step hangs on
// it.
#include "cli/drill_timing.hpp"

#include <algorithm>

namespace detent::cli {
namespace {

using Picture = std::vector<Value>;

Value slip_ticks(const dsl::Model& model) {
  return std::max<Value>(human_slip_us / model.tick_us, 1);
}

std::size_t exact_steps(const SheetRound& sheet) {
  return static_cast<std::size_t>(std::count_if(sheet.steps.begin(), sheet.steps.end(),
                                                [](const DrillStep& step) { return step.exact; }));
}

/// What is shown as a step begins and as it ends.
struct Ends {
  Picture first, last;
  friend bool operator==(const Ends&, const Ends&) = default;
};

class Timing {
 public:
  Timing(const DrillStudy& study, SheetRound& round) : study_(study), round_(round) {}

  void mark() {
    const std::vector<Ends> as_listed = ends_of(round_.hands, begins(0, 0));
    const Value slip = slip_ticks(study_.model);
    for (std::size_t step = 1; step < round_.steps.size(); ++step) {
      for (const Value by : {-slip, slip}) compare(step, by, as_listed);
    }
  }

 private:
  /// The tick in which each step begins, where those from this one on come so much later.
  [[nodiscard]] std::vector<Value> begins(std::size_t from, Value by) const {
    std::vector<Value> ticks;
    for (std::size_t step = 0; step < round_.steps.size(); ++step) {
      ticks.push_back(round_.steps[step].tick + (step >= from ? by : 0));
    }
    return ticks;
  }

  void compare(std::size_t step, Value by, const std::vector<Ends>& as_listed) {
    if (round_.steps[step].tick + by <= round_.steps[step - 1].until) return;
    const std::vector<Ends> now =
        ends_of(moved_along(round_.hands, round_.steps[step].tick, by), begins(step, by));
    for (std::size_t later = step; later < now.size(); ++later) {
      if (now[later] == as_listed[later]) continue;
      round_.steps[step].exact = true;
      round_.steps[later].hangs_on_exact = true;
    }
  }

  [[nodiscard]] Picture picture(const std::vector<Value>& values) const {
    Picture shown;
    for (const std::uint32_t signal : study_.shown)
      shown.push_back(values[study_.model.signals[signal].node]);
    return shown;
  }

  [[nodiscard]] std::vector<Ends> ends_of(const HandRun& run, const std::vector<Value>& begins) const {
    std::vector<Ends> ends;
    play(study_.model, run, [&](const std::vector<Value>& values, Value tick, Value /*count*/) {
      const Picture now = picture(values);
      if (ends.size() < begins.size() && tick == begins[ends.size()]) ends.push_back({now, now});
      ends.back().last = now;
      return true;
    });
    return ends;
  }

  const DrillStudy& study_;
  SheetRound& round_;
};

}  // namespace

HandRun moved_along(HandRun run, Value from, Value by) {
  for (HandRun::Row& row : run.rows) {
    if (row.tick >= from) row.tick += by;
  }
  run.ticks += by;
  return run;
}

solver::Run eased(const DrillStudy& study, const solver::Run& run, Value from,
                  const std::function<bool(const solver::Run&)>& good) {
  DrillRound round{.run = run, .origin = ""};
  SheetRound sheet = drill_steps(study, round);
  for (std::size_t step = 1; step < sheet.steps.size(); ++step) {
    const DrillStep& here = sheet.steps[step];
    if (!here.exact || here.tick < from) continue;
    const Value room = here.tick - sheet.steps[step - 1].until - pause_ticks(study.model);
    for (const Value times : {1, -1, 2, -2, 5, -5, 10, 20}) {
      const Value by = times * slip_ticks(study.model);
      if (by < -room) continue;
      const DrillRound changed{.run = as_run(moved_along(sheet.hands, here.tick, by)), .origin = ""};
      if (!good(changed.run)) continue;
      SheetRound now = drill_steps(study, changed);
      if (now.steps.size() != sheet.steps.size() || exact_steps(now) >= exact_steps(sheet)) continue;
      round = changed;
      sheet = std::move(now);
      break;
    }
  }
  return round.run;
}

void mark_timing(const DrillStudy& study, SheetRound& round) {
  Timing(study, round).mark();
}

}  // namespace detent::cli
