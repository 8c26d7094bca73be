// Whether two pictures of one signal are the same within a tolerance in time and in level.
//
// Two pieces of a signal that stays between changes are compared as (tau, epsilon)-close in the sense of
// conformance testing (Abbas, Mittelmann, Fainekos, "Formal property verification in a conformance testing
// framework", MEMOCODE 2014; from memory): at every moment, what the one shows the other shows too, at most
// epsilon beside it and at most tau before or after, and the other way round. So an edge may come tau too
// early or too late, while a pulse that only one of them has is never passed over, however short it is, and
// nor is one that is missing.
#pragma once

#include <cstddef>
#include <cstdint>
#include <deque>
#include <optional>

namespace detent::cli {

using Nanoseconds = std::int64_t;

/// Where they part: the first moment, and what each shows there.
struct Parting {
  Nanoseconds time = 0;
  std::size_t row = 0;  ///< of the log, the one that holds there
  std::int64_t log = 0, model = 0;
};

/// Of one signal, fed in order of time. Ends with the first parting. Keeps what lies within twice the
/// tolerance.
class Closeness {
 public:
  Closeness(Nanoseconds tolerance, std::int64_t level_tolerance)
      : tau_(tolerance), epsilon_(level_tolerance) {}

  /// From `from` up to `to`, which is later, the log and the model show this; `row` is the log's. Each piece
  /// begins where the one before ended.
  void add(Nanoseconds from, Nanoseconds to, std::int64_t log, std::int64_t model, std::size_t row);
  /// The same beyond the end of the log: it counts for what came before, and is not judged itself.
  void add_beyond(Nanoseconds from, Nanoseconds to, std::int64_t log, std::int64_t model);
  /// There is no more.
  void finish();
  [[nodiscard]] const std::optional<Parting>& parting() const { return parting_; }

 private:
  struct Piece {
    Nanoseconds from = 0, to = 0;
    std::int64_t value = 0;
  };
  struct Open {
    Piece log, model;  ///< the same stretch
    std::size_t row = 0;
  };

  [[nodiscard]] bool matches(std::int64_t one, std::int64_t other) const;
  [[nodiscard]] Nanoseconds covered(const Piece& piece, const std::deque<Piece>& others) const;
  void remember(Nanoseconds from, Nanoseconds to, std::int64_t log, std::int64_t model);
  void decide(Nanoseconds known);
  void forget();

  Nanoseconds tau_;
  std::int64_t epsilon_;
  Nanoseconds now_ = 0;
  std::deque<Piece> log_, model_;
  std::deque<Open> open_;
  std::optional<Parting> parting_;
};

}  // namespace detent::cli
