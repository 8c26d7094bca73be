// By leaving out: each constraint is taken away in turn, and stays away where what is left still has no run
// (a minimal unsatisfiable subset by deletion, Bakker et al., "Diagnosing and solving over-determined
// constraint satisfaction problems", IJCAI 1993, from memory). One question for each constraint.
#include "solver/contradiction.hpp"

#include "solver/session.hpp"

namespace detent::solver {
namespace {

/// Whether these leave no run of so many ticks; false too where a limit comes first.
bool leave_none(const dsl::Model& model, const std::vector<std::uint32_t>& constraints, Value ticks,
                const Limits& limits, Statistics& statistics) {
  Setting setting{&model.circuit, {}};
  for (const std::uint32_t index : constraints) setting.constraints.push_back(model.constraints[index].node);
  Session session(setting, {}, limits, statistics);
  for (Value tick = 0; tick < ticks; ++tick) {
    if (session.limit_reached() != Limit::none) return false;
    session.add_tick();
  }
  return session.ask_for_any_run(static_cast<std::size_t>(ticks)) == Answer::no;
}

}  // namespace

std::vector<std::uint32_t> contradicting(const dsl::Model& model, Value ticks, const Limits& limits,
                                         Statistics& statistics) {
  std::vector<std::uint32_t> kept;
  for (std::uint32_t index = 0; index < model.constraints.size(); ++index) kept.push_back(index);
  for (std::size_t at = 0; at < kept.size() && limits.reached() == Limit::none;) {
    std::vector<std::uint32_t> fewer = kept;
    fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(at));
    if (leave_none(model, fewer, ticks, limits, statistics)) {
      kept = std::move(fewer);
    } else {
      ++at;
    }
  }
  return kept;
}

}  // namespace detent::solver
