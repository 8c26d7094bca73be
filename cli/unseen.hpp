// What an input of a log does between two looks of the model and takes back before the second: the real thing
// may have seen it, the model can't, so agreement would say nothing there.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "dsl/model.hpp"

namespace detent::cli {

struct Unseen {
  std::uint32_t signal = 0;
  dsl::Value value = 0;                     ///< that the model never sees
  bool back = false;                        ///< the input is afterwards as it was before
  std::size_t from_row = 0, until_row = 0;  ///< the row that says it, and the one that takes it back
  dsl::Value tick = 0;                      ///< the look that comes too late
};

/// Of one input, fed with what its column says.
class UnseenWatch {
 public:
  /// A level counts as unseen only where it lies more than `slack` beyond all that the model sees before and
  /// after: a stick on its way is no pulse. Of anything else every value counts.
  UnseenWatch(std::uint32_t signal, bool is_level, dsl::Value slack)
      : signal_(signal), is_level_(is_level), slack_(slack) {}

  /// From row `row` on the input is at `value`, and the model sees it in tick `seen_at`; both never go back.
  /// What was never seen before that, if it is certain now.
  std::optional<Unseen> put(dsl::Value value, dsl::Value seen_at, std::size_t row);
  /// There is no more.
  [[nodiscard]] std::optional<Unseen> finish();

 private:
  struct Passing {
    dsl::Value value = 0;
    std::size_t from_row = 0, until_row = 0;
  };
  void pass_over(std::size_t until_row);

  std::uint32_t signal_;
  bool is_level_;
  dsl::Value slack_;
  bool begun_ = false;
  dsl::Value before_ = 0;  ///< as the model saw it last
  dsl::Value now_ = 0, seen_at_ = 0;
  std::size_t row_ = 0;
  std::vector<Passing> passing_;  ///< in the same tick; of a level the lowest and the highest
};

}  // namespace detent::cli
