// Where both show the same at once there is nothing to look up. Else the piece stays open until all that may
// lie beside it is known; then the pieces of the other side that match, made longer by tau at both ends, must
// cover it without a gap. They come in order of time, so that one pass finds the first gap.
#include "cli/closeness.hpp"

#include <algorithm>
#include <limits>

namespace detent::cli {

bool Closeness::matches(std::int64_t one, std::int64_t other) const {
  return (one > other ? one - other : other - one) <= epsilon_;
}

void Closeness::remember(Nanoseconds from, Nanoseconds to, std::int64_t log, std::int64_t model) {
  const auto append = [&](std::deque<Piece>& pieces, std::int64_t value) {
    const bool goes_on = !pieces.empty() && pieces.back().to == from && pieces.back().value == value;
    goes_on ? void(pieces.back().to = to) : pieces.push_back({from, to, value});
  };
  append(log_, log);
  append(model_, model);
  now_ = to;
}

void Closeness::add(Nanoseconds from, Nanoseconds to, std::int64_t log, std::int64_t model, std::size_t row) {
  if (parting_) return;
  remember(from, to, log, model);
  if (!matches(log, model)) open_.push_back({{from, to, log}, {from, to, model}, row});
  decide(now_);
  forget();
}

void Closeness::add_beyond(Nanoseconds from, Nanoseconds to, std::int64_t log, std::int64_t model) {
  if (parting_) return;
  remember(from, to, log, model);
  decide(now_);
}

void Closeness::finish() {
  decide(std::numeric_limits<Nanoseconds>::max());
}

/// Up to where the piece is covered; its own end where it is as a whole.
Nanoseconds Closeness::covered(const Piece& piece, const std::deque<Piece>& others) const {
  Nanoseconds reached = piece.from;
  const auto ends_before = [this](const Piece& other, Nanoseconds moment) {
    return other.to + tau_ < moment;
  };
  auto other = std::lower_bound(others.begin(), others.end(), piece.from, ends_before);
  for (; other != others.end() && reached < piece.to && other->from - tau_ <= reached; ++other) {
    if (matches(other->value, piece.value)) reached = std::max(reached, other->to + tau_);
  }
  return std::min(reached, piece.to);
}

void Closeness::decide(Nanoseconds known) {
  while (!open_.empty() && !parting_ && open_.front().log.to <= known - tau_) {
    const Open& one = open_.front();
    const Nanoseconds first = std::min(covered(one.log, model_), covered(one.model, log_));
    if (first < one.log.to) parting_ = Parting{first, one.row, one.log.value, one.model.value};
    open_.pop_front();
  }
}

void Closeness::forget() {
  const Nanoseconds oldest = open_.empty() ? now_ : open_.front().log.from;
  for (std::deque<Piece>* pieces : {&log_, &model_}) {
    while (pieces->front().to < oldest - tau_) pieces->pop_front();
  }
}

}  // namespace detent::cli
