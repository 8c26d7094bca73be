// The value as an unknown. After a claim has been decided at one value, all values that are open and whose
// circuit is the same but for numbers become one machine (solver/family.hpp), and Z3 is asked
//   - for runs of it, at whatever value: each rules out its value, is played at all the others, and where it
//   breaks
//     the claim rules them out too; the values ruled out are taken out of the question;
//   - after a proof, for the same proof for all values that are left, at once.
// What this does not settle is left to be decided by itself; so nothing depends on whether it succeeds, and
// nothing is concluded from an edge: what is proved is proved for every value in question, in between as
// well.
//
// What it may cost is bounded by what asking value by value has cost so far.
#include "solver/tune_spread.hpp"

#include <algorithm>
#include <ctime>
#include <functional>
#include <iterator>

#include "solver/family_search.hpp"
#include "solver/limits.hpp"

namespace detent::solver {
namespace {

constexpr std::size_t few_members = 3;
constexpr int usual_steps = 10;
constexpr int most_steps = 24;
constexpr double free_seconds = 1;
constexpr std::chrono::milliseconds most_patience{30'000};

/// Processor time of this thread: how long others keep the machine busy says nothing of what is worth while.
double processor_seconds() {
  timespec now{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + static_cast<double>(now.tv_nsec) / 1e9;
}

int events_of(const Run& run) {
  return static_cast<int>(std::min<std::size_t>(run.inputs.stretches().size(), most_steps));
}

std::vector<Member> where(const std::vector<Member>& members,
                          const std::function<bool(const Member&)>& wanted) {
  std::vector<Member> found;
  std::copy_if(members.begin(), members.end(), std::back_inserter(found), wanted);
  return found;
}

}  // namespace

bool TuneSpread::worth_it(std::size_t members) {
  return members >= few_members && wasted_ <= free_seconds + asked_ / 2;
}

void TuneSpread::from(std::size_t point, const Verdict& verdict, double seconds) {
  const std::unique_lock busy(busy_, std::try_to_lock);
  if (!busy) return;
  asked_ += seconds;
  const bool decided = verdict.run || verdict.proof;
  const std::vector<Member> alike = board_.alike(point, verdict.claim);
  if (!decided || !worth_it(alike.size())) return;
  const Family family(board_.model(point), verdict.claim, alike);
  if (family.members().size() < few_members) return;
  int& steps = steps_.try_emplace(alike.front().shape->form, usual_steps).first->second;
  if (verdict.run) steps = std::min(std::max(steps, events_of(*verdict.run) + 2), most_steps);
  look_for_runs(family, verdict.claim, steps);
  if (verdict.proof && !board_.model(point).claims[verdict.claim].possible) prove(family, point, verdict);
}

void TuneSpread::look_for_runs(const Family& family, std::uint32_t claim, int steps) {
  const Limits limits(most_patience, options_.memory_mib, options_.cancel);
  const bool possible = board_.model(family.members().front().point).claims[claim].possible;
  double last_use = processor_seconds();
  int useless = 0;  // how often in a row a run did nothing at other values
  std::vector<Member> left =
      where(family.members(), [&](const Member& one) { return board_.is_open(one.point, claim); });
  if (left.size() < few_members) return;
  const std::vector<Member> asked = left;
  search_family(family, asked, steps, limits, [&](const FamilyRun& found) {
    last_use = processor_seconds();
    const auto point =
        static_cast<std::size_t>(found.row) * task_.grid.columns + static_cast<std::size_t>(found.column);
    // Told to stop just then, Z3 may give what is no run (solver/reach.cpp).
    const bool trusted = limits.reached() == Limit::none;
    if (!board_.learn(point, found.run) && !possible && board_.is_open(point, claim) && trusted) {
      throw InternalDisagreement{"a run that Z3 found at one of many values breaks nothing there"};
    }
    std::vector<Member> out;
    for (const Member& one : left) {
      if (useless < 3 && one.point != point) board_.learn(one.point, found.run);
      if (one.point == point || !board_.is_open(one.point, claim)) out.push_back(one);
    }
    useless = out.size() > 1 ? 0 : useless + 1;
    std::erase_if(left,
                  [&](const Member& one) { return one.point == point || !board_.is_open(one.point, claim); });
    return out;
  });
  wasted_ += processor_seconds() - last_use;
}

/// At a value whose numbers lie near each other a proof says little about others; then one at which they lie
/// apart is to be decided next.
bool TuneSpread::is_better_elsewhere(const Family& family, const std::vector<Member>& open) {
  if (!suggested_.insert(open.front().shape->form).second) return false;
  std::size_t fewest = ambiguities(family, open.front());
  const Member* best = nullptr;
  for (const Member& one : open) {
    const std::size_t count = ambiguities(family, one);
    if (count >= fewest) continue;
    fewest = count;
    best = &one;
  }
  if (best != nullptr) board_.suggest(best->point);
  return best != nullptr;
}

void TuneSpread::prove(const Family& family, std::size_t point, const Verdict& verdict) {
  const auto open = where(family.members(), [&](const Member& one) {
    return one.point == point || board_.is_open(one.point, verdict.claim);
  });
  const Member here = open.front();
  if (is_better_elsewhere(family, open)) return;
  for (EvenClause& clause : said_evenly(family, board_.model(point), *verdict.proof)) {
    guesses_[here.shape->form].insert(std::move(clause));
  }
  if (prove(family, open, verdict.claim, verdict.proof->k)) return;
  const auto row = where(open, [&](const Member& one) { return one.row == here.row; });
  if (row.size() < open.size() && prove(family, row, verdict.claim, verdict.proof->k)) return;
  const auto column = where(open, [&](const Member& one) { return one.column == here.column; });
  if (column.size() < open.size()) static_cast<void>(prove(family, column, verdict.claim, verdict.proof->k));
}

bool TuneSpread::prove(const Family& family, const std::vector<Member>& members, std::uint32_t claim, int k) {
  if (!worth_it(members.size())) return false;
  const Limits limits(most_patience, options_.memory_mib, options_.cancel);
  const double start = processor_seconds();
  const std::set<EvenClause>& known = guesses_[members.front().shape->form];
  const bool proved = prove_family(family, members, {known.begin(), known.end()}, k, limits);
  if (proved) {
    board_.proved_together(members, claim);
  } else {
    wasted_ += processor_seconds() - start;
  }
  return proved;
}

}  // namespace detent::solver
