// Alterations: one thing of a checked design made different, as a fault of the machine or a slip of the pen
// would make it. The lists of them are in dsl/fault_list.hpp and dsl/slip_list.hpp.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "dsl/design.hpp"
#include "dsl/source.hpp"

namespace detent::dsl {

/// What is made different.
enum class AlterationKind {
  // What the design reads of an input; the hand itself stays free.
  input_stuck,     ///< reads `value`, always
  bounces,         ///< a contact: for `value` ticks from each change on it may read as before, in any tick
  loss_unnoticed,  ///< a link: its loss is not noticed; what it carries still reads as the link says
  keeps_last,      ///< a link: while it is lost, what it carries reads as it did last
  always_lost,     ///< a link: reads as lost, always, and all that it carries as well
  // What an element is.
  stuck,          ///< is `value`, always
  inverted,       ///< a condition: on where it was off; a choice between two levels: the other one
  time,           ///< its `part`-th time (timers_of) is `value` ticks
  condition,      ///< its `part`-th written condition (conditions_of) is `value`, always
  threshold,      ///< its `part`-th threshold (thresholds_of) is `value`
  other_start,    ///< a latch: starts in the other state
  other_winner,   ///< a latch: the other one of set and reset wins
  line_left_out,  ///< stages: the `part`-th line is never taken
};

/// One thing made different.
struct Alteration {
  AlterationKind kind = AlterationKind::stuck;  ///< says what the rest means
  std::size_t element = 0;                      ///< index into Design::elements
  std::size_t part = 0;                         ///< which of several in it
  Value value = 0;                              ///< in the element's own units, or ticks
  std::string name = {};  ///< in words: "thrust stuck at -100 %"; within a list each has its own
  Place place = {};       ///< what it is made at
};

/// An element's times in ticks: of the element, its lines, and of held(…) and recently(…) in its expressions.
[[nodiscard]] std::vector<Value*> timers_of(ElementBody& body);

/// The fixed levels with which an element's expressions compare something, each with its place.
struct Threshold {
  Term* constant = nullptr;        ///< the level itself
  const Term* compared = nullptr;  ///< what it is compared with
  Range allowed = {};  ///< where it may stand: the two of below(…) and above(…) must not cross
};
/// All of them, in the order of the text; they point into `body`.
[[nodiscard]] std::vector<Threshold> thresholds_of(ElementBody& body);

/// A condition that stands written in an element's form or its expressions, and not as an element of its own.
struct WrittenCondition {
  Term* term = nullptr;  ///< the condition
  /// Where it stands.
  enum class Role {
    whole,   ///< what the form asks for: what sets a latch, what starts a pulse
    move,    ///< of a line of stages
    side,    ///< one of the conditions that `and` or `or` joins; `neutral` is as if it were not written
    choice,  ///< of a choice between two values
  } role = Role::whole;  ///< where it stands
  Value neutral = 0;     ///< see Role::side
};
/// All of them, in the order of the text; they point into `body`.
[[nodiscard]] std::vector<WrittenCondition> conditions_of(ElementBody& body);

/// The design with this alteration. Claims and assumptions stay as they are, and speak of the altered
/// elements. Of an input they tell what the hand does (and the link makes of it), not what the design reads.
[[nodiscard]] Design altered(const Design& design, const Alteration& alteration);

/// Makes several of them at once, at most one for each element.
void apply(Design& design, std::vector<Alteration> alterations);

}  // namespace detent::dsl
