#include "cli/unseen.hpp"

#include <algorithm>

namespace detent::cli {

using dsl::Value;

void UnseenWatch::pass_over(std::size_t until_row) {
  const Passing fresh{now_, row_, until_row};
  if (!is_level_ || passing_.size() < 2) {
    const bool known =
        std::any_of(passing_.begin(), passing_.end(), [&](const Passing& one) { return one.value == now_; });
    if (!known) passing_.push_back(fresh);
    if (is_level_ && passing_.size() == 2 && passing_[0].value > passing_[1].value)
      std::swap(passing_[0], passing_[1]);
    return;
  }
  if (now_ < passing_[0].value) passing_[0] = fresh;
  if (now_ > passing_[1].value) passing_[1] = fresh;
}

std::optional<Unseen> UnseenWatch::put(Value value, Value seen_at, std::size_t row) {
  if (begun_ && value == now_) return std::nullopt;
  std::optional<Unseen> unseen;
  if (begun_ && seen_at == seen_at_) {
    pass_over(row);
  } else if (begun_) {
    unseen = finish();
    before_ = now_;
  } else {
    before_ = value;
  }
  begun_ = true;
  now_ = value;
  seen_at_ = seen_at;
  row_ = row;
  return unseen;
}

std::optional<Unseen> UnseenWatch::finish() {
  std::vector<Passing> passing;
  std::swap(passing, passing_);
  for (const Passing& one : passing) {
    const auto [low, high] = std::minmax(before_, now_);
    const bool between = one.value >= low - slack_ && one.value <= high + slack_;
    if (is_level_ ? between : one.value == before_ || one.value == now_) continue;
    return Unseen{.signal = signal_,
                  .value = one.value,
                  .back = before_ == now_,
                  .from_row = one.from_row,
                  .until_row = one.until_row,
                  .tick = seen_at_};
  }
  return std::nullopt;
}

}  // namespace detent::cli
