// Finding moments, and gathering the many ticks of one slow movement into one.
#include "cli/moments.hpp"

#include <algorithm>

namespace detent::cli {
namespace {

using dsl::Model;
using solver::Trace;

void add_change(Moment& moment, const Model& model, const Change& change) {
  const bool hand = model.signals[change.signal].role == dsl::SignalRole::hand;
  (hand ? moment.moves : moment.answers).push_back(change);
}

/// What changes from one moment of the trace to the next.
Moment between(const Model& model, const Trace::Moment& before, const Trace::Moment& now,
               const std::vector<std::uint32_t>& signals) {
  Moment moment{.tick = static_cast<Value>(now.tick), .until = static_cast<Value>(now.tick)};
  for (const std::uint32_t signal : signals) {
    const dsl::NodeId node = model.signals[signal].node;
    const Change change{signal, before.values[node], now.values[node]};
    if (change.from != change.to) add_change(moment, model, change);
  }
  return moment;
}

bool goes_on(const Model& model, const Change& one, const Change& next) {
  return one.signal == next.signal && model.signals[one.signal].sort.kind == dsl::SortKind::level &&
         (one.to > one.from) == (next.to > next.from);
}

bool all_go_on(const Model& model, const std::vector<Change>& one, const std::vector<Change>& next) {
  return std::equal(one.begin(), one.end(), next.begin(), next.end(),
                    [&](const Change& a, const Change& b) { return goes_on(model, a, b); });
}

bool is_one_movement(const Model& model, const Moment& one, const Moment& next) {
  return next.tick == one.until + 1 && !one.moves.empty() && all_go_on(model, one.moves, next.moves) &&
         all_go_on(model, one.answers, next.answers);
}

void prolong(Moment& moment, const Moment& next) {
  moment.until = next.until;
  for (std::size_t i = 0; i < moment.moves.size(); ++i) moment.moves[i].to = next.moves[i].to;
  for (std::size_t i = 0; i < moment.answers.size(); ++i) moment.answers[i].to = next.answers[i].to;
}

}  // namespace

std::vector<Moment> find_moments(const Model& model, const Trace& trace,
                                 const std::vector<std::uint32_t>& signals, std::size_t from) {
  std::vector<Moment> moments;
  for (std::size_t index = 1; index < trace.moments().size(); ++index) {
    if (trace.moments()[index].tick < from) continue;
    Moment moment = between(model, trace.moments()[index - 1], trace.moments()[index], signals);
    if (moment.moves.empty() && moment.answers.empty()) continue;
    if (!moments.empty() && is_one_movement(model, moments.back(), moment)) {
      prolong(moments.back(), moment);
    } else {
      moments.push_back(std::move(moment));
    }
  }
  return moments;
}

}  // namespace detent::cli
