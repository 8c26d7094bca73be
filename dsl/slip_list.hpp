// The small things that somebody might write wrong, one after another: what no claim notices of them is a gap
// between the claims.
#pragma once

#include <vector>

#include "dsl/alter.hpp"
#include "dsl/design.hpp"

namespace detent::dsl {

/// In the order of the design; each with a name of its own:
///   condition  always on, always off, inverted (a latch and a timer: what everybody sees of it)
///   level      of a choice: the two turned round; counter and keep: always at their start
///   stages     always at the same stage, for each; each line left out
///   written condition (what sets a latch, starts a pulse, moves stages, chooses a value)  always on, always
///   off side of `and` or `or`  left out threshold  a step higher, a step lower (of the channel's steps that
///   it is compared with) time       a tick longer, a tick shorter latch      the other of set and reset
///   wins; starts in the other state
/// `sources`: those that the design was read from; conditions are called by what is written.
[[nodiscard]] std::vector<Alteration> list_slips(const Design& design, const Sources& sources);

}  // namespace detent::dsl
