// A claim looks at a slice of the design. Where the slices at two values are the same node by node
// (solver/memo.hpp) they are one question, and have one answer.
//
// Whether the condition of a claim can be met at all is asked as one more `possible` claim, behind the
// others: so runs that show it at one value are tried at the others as well. It decides nothing about a
// value.
#include "solver/tune_board.hpp"

#include <algorithm>
#include <utility>

#include "solver/memo.hpp"
#include "solver/tune_order.hpp"
#include "solver/tune_runs.hpp"

namespace detent::solver {

using dsl::Claim;
using dsl::Model;

namespace {

std::string key_of_assumptions(Model& model) {
  if (model.constraints.empty()) return {};
  Claim any;
  any.watch = model.constraints.front().node;
  model.claims.push_back(any);
  std::string key = key_of(model, static_cast<std::uint32_t>(model.claims.size() - 1));
  model.claims.pop_back();
  return key;
}

/// Makes the conditions of claims claims of their own. Which claims they are for.
std::vector<std::uint32_t> ask_for_premises(Model& model) {
  std::vector<std::uint32_t> premise_of;
  const std::size_t claims = model.claims.size();
  for (std::uint32_t claim = 0; claim < claims; ++claim) {
    const dsl::NodeId premise = std::exchange(model.claims[claim].premise, dsl::no_node);
    if (model.claims[claim].possible || premise == dsl::no_node || model.circuit.is_constant(premise))
      continue;
    Claim asked = model.claims[claim];
    asked.possible = true;
    asked.within.reset();
    asked.watch = premise;
    model.claims.push_back(std::move(asked));
    premise_of.push_back(claim);
  }
  return premise_of;
}

}  // namespace

TuneBoard::TuneBoard(const TuneTask& task, const TuneOptions& options) : task_(task), options_(options) {
  points_.resize(task.grid.points());
  report_.points.resize(points_.size());
  wanted_ = points_.size();
  for (std::size_t point = 0; point < task.wanted.size(); ++point) {
    if (task.wanted[point]) continue;
    points_[point].taken = true;
    --wanted_;
  }
}

void TuneBoard::put(std::size_t point, std::optional<Model> model) {
  Point made;
  std::vector<std::string> keys;
  if (model) {
    made.premise_of = ask_for_premises(*model);
    for (std::uint32_t claim = 0; claim < model->claims.size(); ++claim) {
      keys.push_back(key_of(*model, claim));
      made.shapes.push_back(shape_of(*model, claim));
    }
    made.assumptions = key_of_assumptions(*model);
  }
  made.model = std::move(model);
  const std::lock_guard lock(mutex_);
  for (std::string& key : keys) made.questions.push_back(question_of(std::move(key)));
  points_[point] = std::move(made);
  if (!points_[point].model) settle(point, {.standing = Standing::no_design});
}

std::size_t TuneBoard::question_of(std::string key) {
  const auto [entry, is_new] = numbers_.try_emplace(std::move(key), questions_.size());
  if (is_new) {
    questions_.emplace_back();
  } else {
    ++report_.statistics.shared;
  }
  return entry->second;
}

std::optional<std::size_t> TuneBoard::take() {
  const std::lock_guard lock(mutex_);
  if (const auto wished = std::exchange(suggested_, std::nullopt)) {
    const bool free = !points_[*wished].taken && report_.points[*wished].standing == Standing::open;
    if (free) points_[*wished].taken = true;
    if (free) return wished;
  }
  std::vector<bool> taken;
  for (const Point& one : points_) taken.push_back(one.taken);
  const auto point = next_point(task_.grid, report_.points, taken);
  if (point) points_[*point].taken = true;
  return point;
}

void TuneBoard::suggest(std::size_t point) {
  const std::lock_guard lock(mutex_);
  suggested_ = point;
}

bool TuneBoard::take(std::size_t point) {
  const std::lock_guard lock(mutex_);
  if (points_[point].taken || report_.points[point].standing != Standing::open) return false;
  return points_[point].taken = true;
}

bool TuneBoard::is_open(std::size_t point) {
  const std::lock_guard lock(mutex_);
  return report_.points[point].standing == Standing::open;
}

bool TuneBoard::wants(std::size_t point, std::uint32_t claim) const {
  const PointFinding& finding = report_.points[point];
  if (!points_[point].model) return false;
  return finding.standing == Standing::open || (finding.standing == Standing::fails && claim < finding.claim);
}

std::vector<std::size_t> TuneBoard::points_wanting(std::uint32_t claim) {
  const std::lock_guard lock(mutex_);
  std::vector<std::size_t> wanting;
  for (std::size_t point = 0; point < points_.size(); ++point) {
    if (wants(point, claim)) wanting.push_back(point);
  }
  return wanting;
}

std::optional<std::size_t> TuneBoard::take_unnamed() {
  const std::lock_guard lock(mutex_);
  for (; unnamed_ < points_.size(); ++unnamed_) {
    if (wants(unnamed_, 0) && report_.points[unnamed_].standing == Standing::fails) return unnamed_++;
  }
  return {};
}

std::vector<std::uint32_t> TuneBoard::claims_before(std::size_t point) {
  const std::lock_guard lock(mutex_);
  std::vector<std::uint32_t> claims;
  for (std::uint32_t claim = 0; claim < report_.points[point].claim; ++claim) {
    if (question(point, claim).state == Question::State::open) claims.push_back(claim);
  }
  return claims;
}

void TuneBoard::name_first(std::size_t point) {
  const std::lock_guard lock(mutex_);
  for (std::uint32_t claim = 0; claim < report_.points[point].claim; ++claim) {
    if (question(point, claim).state != Question::State::broken) continue;
    report_.points[point] = broken_by(point, claim);
    return;
  }
}

std::vector<PointFinding> TuneBoard::findings() {
  const std::lock_guard lock(mutex_);
  return report_.points;
}

bool TuneBoard::settle_by_answers(std::size_t point) {
  const std::lock_guard lock(mutex_);
  if (report_.points[point].standing != Standing::open) return true;
  std::optional<PointFinding> finding = finding_of_claims(point);
  if (!finding) return false;
  settle(point, std::move(*finding));
  return true;
}

std::optional<PointFinding> TuneBoard::finding_of_claims(std::size_t point) const {
  std::optional<PointFinding> undecided;
  bool open = false;
  for (std::uint32_t claim = 0; claim < points_[point].claims(); ++claim) {
    const Question& asked = question(point, claim);
    switch (asked.state) {
      case Question::State::broken:
        return broken_by(point, claim);
      case Question::State::no_run:
        return PointFinding{.standing = Standing::no_run};
      case Question::State::undecided:
        undecided = PointFinding{.standing = Standing::undecided, .claim = claim, .limit = asked.limit};
        break;
      case Question::State::open:
        open = true;
        break;
      case Question::State::holds:
        break;
    }
  }
  if (open) return {};
  return undecided ? undecided : holding(point);
}

/// All claims hold; nothing while it is open whether the condition of one can be met.
std::optional<PointFinding> TuneBoard::holding(std::size_t point) const {
  const Point& here = points_[point];
  PointFinding finding{.standing = Standing::holds};
  for (std::uint32_t claim = 0; claim < here.questions.size(); ++claim) {
    const Question& asked = question(point, claim);
    if (asked.state == Question::State::open) return {};
    if (claim < here.claims()) {
      finding.together = std::max(finding.together, asked.together);
    } else if (asked.state == Question::State::broken && asked.for_all_time) {
      finding.vacuous.push_back(here.premise_of[claim - here.claims()]);
    }
  }
  return finding;
}

/// One circuit, one verdict; and still the run is played on the design of this very point.
PointFinding TuneBoard::broken_by(std::size_t point, std::uint32_t claim) const {
  const Question& asked = question(point, claim);
  if (asked.run) {
    const Seen seen = look_at(*points_[point].model, *asked.run);
    if (!seen.broken) throw InternalDisagreement{"a run that breaks a claim does not break it again"};
    // It may break another on the way; only one declared before is told instead.
    if (*seen.broken < claim) {
      Run run = *asked.run;
      run.inputs.cut(seen.ticks);
      return {.standing = Standing::fails, .claim = *seen.broken, .run = std::move(run)};
    }
  }
  return {.standing = Standing::fails,
          .claim = claim,
          .run = asked.run,
          .shortest = asked.limit == Limit::none,
          .for_all_time = asked.for_all_time,
          .ticks = asked.ticks,
          .limit = asked.limit};
}

void TuneBoard::settle(std::size_t point, PointFinding finding) {
  if (report_.points[point].standing != Standing::open) return;
  if (finding.standing == Standing::fails) ++breaks_[finding.claim];
  report_.points[point] = std::move(finding);
  ++decided_;
  if (options_.progress) options_.progress({decided_, wanted_});
}

std::vector<std::uint32_t> TuneBoard::open_claims(std::size_t point, Turn turn) {
  const std::lock_guard lock(mutex_);
  std::vector<std::uint32_t> claims;
  for (std::uint32_t claim = 0; claim < points_[point].questions.size(); ++claim) {
    const bool condition = claim >= points_[point].claims();
    const Turn its = condition ? Turn::conditions : breaks_.contains(claim) ? Turn::likely : Turn::others;
    if (question(point, claim).state == Question::State::open && its == turn) claims.push_back(claim);
  }
  return claims;
}

bool TuneBoard::is_open(std::size_t point, std::uint32_t claim) {
  const std::lock_guard lock(mutex_);
  return wants(point, claim) && question(point, claim).state == Question::State::open;
}

std::vector<Member> TuneBoard::alike(std::size_t point, std::uint32_t claim) {
  const auto columns = static_cast<Value>(task_.grid.columns);
  const std::lock_guard lock(mutex_);
  const Shape& shape = points_[point].shapes[claim];
  std::vector<Member> members;
  const auto add = [&](std::size_t one) {
    const auto place = static_cast<Value>(one);
    members.push_back({one, place / columns, place % columns, &points_[one].shapes[claim]});
  };
  add(point);
  for (std::size_t one = 0; one < points_.size(); ++one) {
    if (one == point || !wants(one, claim)) continue;
    const bool fits =
        points_[one].shapes[claim].form == shape.form && can_be_kept_.contains(points_[one].assumptions);
    if (fits && question(one, claim).state == Question::State::open) add(one);
  }
  return members;
}

void TuneBoard::answer(std::size_t point, const Report& report) {
  const std::lock_guard lock(mutex_);
  report_.statistics.asked += report.verdicts.size();
  if (!report.no_run_of) can_be_kept_.insert(points_[point].assumptions);
  for (const Verdict& verdict : report.verdicts) {
    take_over(questions_[points_[point].questions[verdict.claim]], verdict, report.no_run_of.has_value());
  }
}

void TuneBoard::take_over(Question& question, const Verdict& verdict, bool no_run) {
  const bool held = question.state == Question::State::holds;
  if (held && (no_run || verdict.outcome == Outcome::refuted)) {
    throw InternalDisagreement{"a claim that was proved for many values is refuted at one of them"};
  }
  if (held) return;
  question.limit = verdict.limit;
  switch (verdict.outcome) {
    case Outcome::proved:
    case Outcome::shown:
      question.state = Question::State::holds;
      break;
    case Outcome::refuted:
      question.state = Question::State::broken;
      question.for_all_time = verdict.proof.has_value();
      question.ticks = verdict.ticks;
      question.run = verdict.run;
      break;
    default:
      question.state = Question::State::undecided;
  }
  if (no_run) question.state = Question::State::no_run;
}

void TuneBoard::proved_together(const std::vector<Member>& members, std::uint32_t claim) {
  const std::lock_guard lock(mutex_);
  report_.statistics.together += members.size();
  for (const Member& one : members) {
    Question& asked = questions_[points_[one.point].questions[claim]];
    if (asked.state == Question::State::broken) {
      throw InternalDisagreement{"a claim that is refuted at a value is proved for many"};
    }
    asked.state = Question::State::holds;
    asked.together = std::max(asked.together, members.size());
  }
}

bool TuneBoard::learn(std::size_t point, const Run& run) {
  {
    const std::lock_guard lock(mutex_);
    if (!can_be_kept_.contains(points_[point].assumptions)) return false;
  }
  const Seen seen = look_at(*points_[point].model, run);
  const std::lock_guard lock(mutex_);
  for (const std::uint32_t claim : seen.shown) {
    Question& asked = questions_[points_[point].questions[claim]];
    if (asked.state == Question::State::open) asked.state = Question::State::holds;
  }
  if (!seen.broken || !wants(point, *seen.broken)) return seen.broken.has_value();
  if (question(point, *seen.broken).state == Question::State::holds) {
    throw InternalDisagreement{"a claim is proved that a replayed run breaks"};
  }
  Run here = run;
  here.inputs.cut(seen.ticks);
  PointFinding finding{.standing = Standing::fails, .claim = *seen.broken, .run = std::move(here)};
  if (report_.points[point].standing == Standing::fails) {
    report_.points[point] = std::move(finding);
    return true;
  }
  settle(point, std::move(finding));
  ++report_.statistics.carried;
  return true;
}

std::vector<std::pair<std::size_t, Run>> TuneBoard::near_runs(std::size_t point) {
  const std::lock_guard lock(mutex_);
  std::vector<std::pair<std::size_t, Run>> near;
  for (const std::size_t from : nearest_runs(task_.grid, report_.points, point)) {
    near.emplace_back(from, *report_.points[from].run);
  }
  return near;
}

TuneReport TuneBoard::take_report() {
  return std::move(report_);
}

}  // namespace detent::solver
