#include "dsl/word_meanings.hpp"

#include <algorithm>

namespace detent::dsl {
namespace {

constexpr WordSort declaration = WordSort::declaration;
constexpr WordSort function = WordSort::function;
constexpr WordSort inner = WordSort::inner;
constexpr WordSort plain = WordSort::plain;

}  // namespace

const std::vector<WordMeaning>& word_meanings() {
  static const std::vector<WordMeaning> meanings{
      {"design", declaration, "design \"title\"", "Gives the whole a title."},
      {"tick", declaration, "tick 20 ms", "How long a tick is; every design has exactly one such line."},
      {"channel", declaration, "channel NAME from LOW to HIGH [step STEP] [moving at most RATE per UNIT]",
       "A stick, a slider, a knob or a sensor: an input that may jump from any level to any other."},
      {"switch", declaration, "switch NAME is A | B | …",
       "An input with two positions or more, which may go from each to each."},
      {"button", declaration, "button NAME", "An input that is true while it is pressed."},
      {"link", declaration, "link NAME carries A, B, … lost: A VALUE, B VALUE, …",
       "A radio link: while it is lost, the design sees the values behind `lost:`, whatever the hand does."},
      {"signal", declaration, "signal NAME = E", "Like a gate: gives an expression a name."},
      {"output", declaration, "output NAME = E [when C else F]",
       "Like a channel that leaves the design: E, or E while C is true and F otherwise."},
      {"pulse", declaration, "pulse NAME on E for T [restarting] [cancelled by C]",
       "Like a timer started by an edge: when E rises it goes on, for exactly T, whatever E does meanwhile."},
      {"delay", declaration, "delay NAME on E for T",
       "Like an on-delay: it comes on once E has been on for T, and goes off with E at once."},
      {"linger", declaration, "linger NAME on E for T",
       "Like an off-delay: it is on while E is on, and for T after it ends."},
      {"latch", declaration, "latch NAME set S reset R [set wins | reset wins] [starting on | off]",
       "Like a bistable: on once S was true, off once R was true; while both are, reset wins unless it says "
       "`set "
       "wins`."},
      {"counter", declaration, "counter NAME up E [down F] [reset R] from LOW to HIGH",
       "Like a counter of edges: the rises of E up and those of F down, within its range; it starts at LOW."},
      {"keep", declaration, "keep NAME = E when C starting V",
       "Like a sample and hold: takes the value of E while C is true and keeps it otherwise; V before the "
       "first "
       "time."},
      {"stages", declaration, "stages NAME is A | B | …",
       "Like a row of modes: it begins in the first, and in each tick the first of its lines that applies "
       "moves it."},
      {"tunable", declaration, "tunable NAME = V from LOW to HIGH",
       "A number or a time with a name; the range says what may be tried in its place."},
      {"power_up", declaration, "power_up edges counted | ignored | either",
       "Whether what is on when the power comes counts as just risen."},
      {"at", declaration, "at power_up: C", "Narrows what the hand may do in tick 0."},
      {"claim", declaration, "claim NAME \"sentence\": …",
       "What must be true of every run, or possible in some."},
      {"assume", declaration, "assume NAME \"why\": …",
       "Runs that break it are left out: every verdict then speaks only of hands that keep to it."},
      {"part", declaration, "part NAME(condition A, level B, count C, duration D) … end",
       "A piece to use again."},
      {"use", declaration, "use NAME = PART(E, …)",
       "Puts a part in, with elements of its own: `NAME.ok` is its `ok`."},
      {"include", declaration, "include \"file\"",
       "Brings in the parts of another file; the path starts at the folder of the file that includes."},
      {"rises", function, "rises(c)", "c comes on"},
      {"falls", function, "falls(c)", "c goes off"},
      {"changes", function, "changes(x)", "x is not what it was"},
      {"previous", function, "previous(x, starting V)", "x one tick ago"},
      {"held", function, "held(c, T)", "c for at least T"},
      {"recently", function, "recently(c, T)", "c at most T ago"},
      {"since", function, "since(c, e)", "c ever since e"},
      {"below", function, "below(x, L, until M)", "under L, with a gap"},
      {"above", function, "above(x, L, until M)", "over L, with a gap"},
      {"min", function, "min(x, y, …)", "the smallest of them"},
      {"max", function, "max(x, y, …)", "the largest of them"},
      {"abs", function, "abs(x)", "x without its sign"},
      {"hand", function, "hand(x)", "what the hand does"},
      {"and", inner, "a and b", "True if both are."},
      {"or", inner, "a or b", "True if one of them is, or both."},
      {"xor", inner, "a xor b", "True if one of the two is, not both."},
      {"not", inner, "not a", "True if it is not."},
      {"implies", inner, "a implies b", "If a is true, b is as well."},
      {"is", inner, "guard is run", "Asks for a position, a stage, `pressed`, `released` or `lost`."},
      {"if", inner, "if C then E else F", "E while C is true, and F otherwise."},
      {"then", inner, "if C then E else F", "The value while the condition is true comes next."},
      {"else", inner, "if C then E else F", "The value otherwise comes next."},
      {"when", inner, "… when C", "The condition under which it applies comes next."},
      {"after", inner, "A -> B after T",
       "In `stages`: so long after the stage was entered; in a claim: what must come before."},
      {"while", inner, "never P while Q", "Speaks of the ticks in which the condition is true."},
      {"within", inner, "whenever P: Q within T", "At most T later, or at most T before; at once is good."},
      {"only", inner, "P only while Q", "Says what must go with P, or come before it."},
      {"lasts", inner, "P lasts at least T", "Says how long P stays on once it is."},
      {"for", inner, "… for T", "A time comes next."},
      {"restarting", inner, "pulse NAME on E for T restarting",
       "A rise while the pulse is on starts its time again."},
      {"cancelled", inner, "cancelled by C", "While C is true the pulse is off and nothing starts it."},
      {"by", inner, "cancelled by C", "The condition that cancels comes next."},
      {"set", inner, "set S", "What brings the latch on comes next."},
      {"reset", inner, "reset R", "What brings it off, or a counter to its lowest, comes next."},
      {"wins", inner, "set wins", "Says who wins while both are true."},
      {"starting", inner, "starting V", "The value before the first tick, or before the first time."},
      {"up", inner, "up E", "What counts up comes next."},
      {"down", inner, "down F", "What counts down comes next."},
      {"from", inner, "from LOW to HIGH", "The lowest comes next."},
      {"to", inner, "from LOW to HIGH", "The highest comes next."},
      {"step", inner, "step STEP", "The distance between two levels of a channel; 1 if it is not said."},
      {"moving", inner, "moving at most RATE per UNIT", "How fast a channel can be moved."},
      {"on", inner, "on E", "The condition that it looks at comes next."},
      {"true", inner, "true", "The condition that always holds."},
      {"false", inner, "false", "The condition that never holds."},
      {"any", inner, "any -> A when C", "From every stage; in A itself, it stays."},
      {"always", inner, "always P", "P in every tick."},
      {"never", inner, "never P", "P in no tick."},
      {"whenever", inner, "whenever P: Q", "Each tick with P has Q."},
      {"possible", inner, "possible P", "Some run has a tick with P."},
      {"until", inner, "below(x, L, until M)", "The level that switches back comes next."},
      {"end", inner, "part NAME(…) … end", "Ends a part."},
      {"edges", plain, "power_up edges counted", "What is true at power-up, as a rise or a fall."},
      {"counted", plain, "power_up edges counted",
       "What is on counts as just risen, what is off as just fallen."},
      {"ignored", plain, "power_up edges ignored", "No edge at all in tick 0."},
      {"either", plain, "power_up edges either", "Both are tried, and a run says which it used."},
      {"carries", plain, "link NAME carries A, B, …", "The inputs that the link carries come next."},
      {"lost", plain, "radio is lost", "The link is down; behind `lost:` stands what the design sees then."},
      {"before", plain, "lost: as before", "While the link is lost the design sees what arrived last."},
      {"as", plain, "lost: as before", "While the link is lost the design sees what arrived last."},
      {"pressed", plain, "stop is pressed", "The button is down."},
      {"released", plain, "stop is released", "The button is up."},
      {"most", plain, "at most", "The largest that is allowed comes next."},
      {"least", plain, "lasts at least T", "The shortest that is allowed comes next."},
      {"per", plain, "moving at most RATE per UNIT", "The unit of time of a rate comes next."},
      {"off", plain, "starting off", "Not on."},
      {"condition", plain, "condition NAME", "An argument that is true or false."},
      {"level", plain, "level NAME", "An argument that is a number with its unit."},
      {"count", plain, "count NAME", "An argument that is a plain number."},
      {"duration", plain, "duration NAME", "An argument that is a time."}};
  return meanings;
}

const WordMeaning* meaning_of(std::string_view word) {
  const std::vector<WordMeaning>& all = word_meanings();
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const WordMeaning& one) { return one.word == word; });
  return found == all.end() ? nullptr : &*found;
}

}  // namespace detent::dsl
