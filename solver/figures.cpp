// Both searches only ever trust two kinds of answer: a run, which is a bound from one side, and a proof that
// there is no run of any length, which is one from the other. The figure is exact where the two meet.
#include "solver/figures.hpp"

#include <algorithm>
#include <utility>

namespace detent::solver {

dsl::Claim possibly(NodeId condition) {
  dsl::Claim claim;
  claim.form = dsl::ClaimForm::possible;
  claim.possible = true;
  claim.watch = condition;
  return claim;
}

// ---- Fewest: a run, then whether there is a better one, until there is none ----

Fewest::Fewest(FigureKind kind, Measure measure)
    : measure_(std::move(measure)), figure_{.kind = kind, .state = Figure::State::undecided} {}

std::optional<dsl::Claim> Fewest::next() {
  if (done_) return std::nullopt;
  if (!figure_.run) return measure_.goal;
  asked_ = from_below_ ? figure_.floor : figure_.value - 1;
  if (asked_ < figure_.floor || (from_below_ && asked_ >= figure_.value - 1)) {
    done_ = true;
    if (figure_.floor == figure_.value) figure_.state = Figure::State::exact;
    return std::nullopt;
  }
  return is_loose() ? measure_.loosely_at_most(asked_) : measure_.at_most(asked_);
}

void Fewest::not_below(Value floor) {
  figure_.floor = std::max(figure_.floor, floor);
}

void Fewest::improve(const Verdict& verdict, const std::function<Trace(const Run&)>& replayed) {
  const Value value = measure_.of(replayed(*verdict.run));
  if (figure_.run && value >= figure_.value) {
    if (is_loose()) {
      measure_.loosely_at_most = {};  // it says nothing here: the question is asked again, strictly
      return;
    }
    throw InternalDisagreement{"a run that was to be better than another is not"};
  }
  figure_.value = value;
  figure_.run = verdict.run;
}

void Fewest::take(const Verdict& verdict, const std::function<Trace(const Run&)>& replayed) {
  if (verdict.outcome == Outcome::shown) {
    improve(verdict, replayed);
  } else if (verdict.outcome == Outcome::refuted) {
    if (!figure_.run) {
      figure_.state = Figure::State::none;
      done_ = true;
    } else {
      not_below(asked_ + 1);
    }
  } else {
    figure_.limit = verdict.limit;
    // No run of so many ticks does it.
    if (figure_.kind == FigureKind::time_to_goal) not_below(verdict.ticks);
    done_ = !figure_.run || from_below_ || figure_.kind == FigureKind::time_to_goal;
    from_below_ = true;
  }
}

// ---- Longest: strides that double until one is too long, then halves between the two ----

Longest::Longest(Conditions conditions)
    : conditions_(std::move(conditions)),
      figure_{.kind = FigureKind::time_to_rest, .state = Figure::State::undecided} {}

std::optional<dsl::Claim> Longest::next() {
  if (done_) return std::nullopt;
  if (out_of_reach_ && *out_of_reach_ == figure_.value) {
    figure_.state = Figure::State::exact;
    done_ = true;
    return std::nullopt;
  }
  asked_ = out_of_reach_ ? figure_.value + (*out_of_reach_ - figure_.value) / 2 : figure_.value + stride_ - 1;
  if (asked_ > conditions_.most) {
    figure_.limit = Limit::ticks;
    done_ = true;
    return std::nullopt;
  }
  return possibly(conditions_.restless(asked_));
}

void Longest::take(const Verdict& verdict) {
  if (verdict.outcome == Outcome::shown) {
    figure_.value = asked_ + 1;
    figure_.run = verdict.run;
    if (!out_of_reach_ && asked_ > 0) stride_ *= 2;
    if (conditions_.for_ever(*verdict.run)) {
      figure_.state = Figure::State::endless;
      done_ = true;
    }
  } else if (verdict.outcome == Outcome::refuted) {
    out_of_reach_ = asked_;
  } else {
    figure_.limit = verdict.limit;
    done_ = true;
  }
}

}  // namespace detent::solver
