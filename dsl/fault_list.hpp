// The single faults that are looked at, one after another.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "dsl/alter.hpp"
#include "dsl/design.hpp"
#include "dsl/model.hpp"

namespace detent::dsl {

/// Which faults are made.
struct FaultOptions {
  /// How wrong a timer may run, in millionths of its time; it is off by at least one tick.
  Value tolerance = 100'000;
  Value bounce_ticks = 3;  ///< how long a contact bounces, at least one tick
  /// Between which values levels stay, by the element's name; one that is not named has no ends to be stuck
  /// at.
  std::map<std::string, Range> ends = {};
};

/// Between which values the levels of a design stay in every run, by name.
[[nodiscard]] std::map<std::string, Range> ends_of_levels(const Model& model);

/// In the order of the design; each with a name of its own:
///   channel  stuck at both ends, and at rest (0, or the middle where it has no 0 between its ends)
///   switch   stuck at each position; its contact bounces
///   button   stuck pressed or released; its contact bounces
///   carried by a link   stuck at what it is while the link is lost
///   link     its loss goes unnoticed; what it carries stays as it was; it is lost for good
///   condition (signal, output, timer, latch)   stuck on or off; stages: stuck at each stage
///   level or position of an output   stuck at both ends, or at each position
///   counter   stuck at both ends; keep   stuck at both ends and at its start
///   timer (pulse, delay, linger, `after` of stages, held(…), recently(…))   too fast or too slow
///   latch    starts in the other state
/// What no output depends on is no part of the machine, and has no faults (unless there is no output at all).
/// What stands hidden in the use of a part is looked at for its times alone.
[[nodiscard]] std::vector<Alteration> list_faults(const Design& design, const FaultOptions& options);

}  // namespace detent::dsl
