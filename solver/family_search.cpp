// As in solver/event_search.cpp, but the question stays open at each depth until no value is left whose runs
// of so many steps do it. Runs are not made smallest: there are many of them, and whoever shows one makes it
// so.
#include "solver/family_search.hpp"

#include <z3++.h>

#include <algorithm>
#include <string>

#include "solver/family_terms.hpp"
#include "solver/step_terms.hpp"

namespace detent::solver {
namespace {

/// The longest run of so many steps that is of use: each wait longer than the longest time of the design.
Value most_ticks(const Family& family, const std::vector<Member>& members, int steps) {
  Value longest = 0;
  for (const Member& one : members) {
    for (const Memory& memory : family.machine().memories) {
      for (const Value limit : memory.limits) {
        const auto unknown = family.unknown().find(limit);
        longest = std::max(
            longest, unknown == family.unknown().end() ? limit : unknown->second.at(one.row, one.column));
      }
    }
  }
  return std::min<Value>(steps * (longest + 2), 100'000);
}

class Search {
 public:
  Search(const Family& family, const std::vector<Member>& members, const Limits& limits)
      : family_(family),
        members_(members),
        limits_(limits),
        watchman_(limits, [this] { context_.interrupt(); }),
        solver_(make_solver(context_)),
        memory_(starting_memory(context_, family.machine())) {
    add_all(solver_, one_of(context_, members));
  }

  void look(int most_steps, const std::function<std::vector<Member>(const FamilyRun&)>& found) {
    std::size_t left = members_.size();
    while (left > 0 && static_cast<int>(steps_.size()) < most_steps && limits_.reached() == Limit::none) {
      add_step();
      for (;;) {
        z3::expr_vector assumptions(context_);
        assumptions.push_back(goal());
        const z3::check_result answer = solver_.check(assumptions);
        if (answer == z3::unknown) return;
        if (answer == z3::unsat) break;
        const std::vector<Member> out = found(read(solver_.get_model()));
        for (const Member& one : out) exclude(one);
        left -= std::min(left, out.size());
        if (left == 0 || limits_.reached() != Limit::none) return;
      }
      solver_.add(!steps_.back().values[family_.watch()]);
    }
  }

 private:
  void add_step() {
    const std::string suffix = "@" + std::to_string(steps_.size());
    if (!steps_.empty()) {
      const z3::expr later = ticks_ + 1 + steps_.back().quiet.front();
      ticks_ = later;
      memory_ = name_all(context_, solver_, memory_, suffix);
    }
    steps_.push_back(make_step(context_, family_.machine(), memory_, suffix));
    add_all(solver_, steps_.back().facts);
    memory_ = steps_.back().memory;
    const Value most = most_ticks(family_, members_, static_cast<int>(steps_.size()));
    const z3::expr asked = goal();
    solver_.add(z3::implies(asked, steps_.back().values[family_.watch()]));
    solver_.add(z3::implies(asked, ticks_ <= context_.int_val(static_cast<std::int64_t>(most))));
  }

  z3::expr goal() { return context_.bool_const(("goal@" + std::to_string(steps_.size())).c_str()); }

  FamilyRun read(const z3::model& model) {
    std::vector<StepValues> values;
    for (const Step& step : steps_) values.push_back(read_step(model, step));
    const std::vector<Value> place = read_values(model, {unknown_row(context_), unknown_column(context_)});
    return {family_.widened(expand(family_.machine(), values)), place[0], place[1]};
  }

  void exclude(const Member& one) {
    solver_.add(unknown_row(context_) != context_.int_val(static_cast<std::int64_t>(one.row)) ||
                unknown_column(context_) != context_.int_val(static_cast<std::int64_t>(one.column)));
  }

  const Family& family_;
  const std::vector<Member>& members_;
  const Limits& limits_;
  z3::context context_;
  Watchman watchman_;
  z3::solver solver_;
  z3::expr ticks_ = context_.int_val(0);
  std::vector<z3::expr> memory_;
  std::vector<Step> steps_;
};

}  // namespace

void search_family(const Family& family, const std::vector<Member>& members, int most_steps,
                   const Limits& limits, const std::function<std::vector<Member>(const FamilyRun&)>& found) {
  try {
    Search(family, members, limits).look(most_steps, found);
  } catch (const z3::exception&) {
    // Stopped: what has been found so far has been told.
  }
}

}  // namespace detent::solver
