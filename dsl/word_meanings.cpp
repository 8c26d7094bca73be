#include "dsl/word_meanings.hpp"

#include <algorithm>
#include <array>

namespace detent::dsl {
namespace {

constexpr WordSort declaration = WordSort::declaration;
constexpr WordSort function = WordSort::function;
constexpr WordSort inner = WordSort::inner;
constexpr WordSort plain = WordSort::plain;

constexpr auto meanings = std::to_array<WordMeaning>(
    {WordMeaning{"design", declaration, "design \"title\"", "Gives the whole a title."},
     WordMeaning{"tick", declaration, "tick 20 ms",
                 "How long a tick is; every design has exactly one such line."},
     WordMeaning{
         "channel", declaration, "channel NAME from LOW to HIGH [step STEP] [moving at most RATE per UNIT]",
         "A stick, a slider, a knob or a sensor: an input that may jump from any level to any other."},
     WordMeaning{"switch", declaration, "switch NAME is A | B | …",
                 "An input with two positions or more, which may go from each to each."},
     WordMeaning{"button", declaration, "button NAME", "An input that is true while it is pressed."},
     WordMeaning{"link", declaration, "link NAME carries A, B, … lost: A VALUE, B VALUE, …",
                 "A radio link: while it is lost, the design sees the values behind `lost:`, whatever the "
                 "hand does."},
     WordMeaning{"signal", declaration, "signal NAME = E", "Like a gate: gives an expression a name."},
     WordMeaning{"output", declaration, "output NAME = E [when C else F]",
                 "Like a channel that leaves the design: E, or E while C is true and F otherwise."},
     WordMeaning{"pulse", declaration, "pulse NAME on E for T [restarting] [cancelled by C]",
                 "Like a timer started by an edge: when E rises it goes on, for exactly T, whatever E does "
                 "meanwhile."},
     WordMeaning{"delay", declaration, "delay NAME on E for T",
                 "Like an on-delay: it comes on once E has been on for T, and goes off with E at once."},
     WordMeaning{"linger", declaration, "linger NAME on E for T",
                 "Like an off-delay: it is on while E is on, and for T after it ends."},
     WordMeaning{"latch", declaration, "latch NAME set S reset R [set wins | reset wins] [starting on | off]",
                 "Like a bistable: on once S was true, off once R was true; while both are, reset wins "
                 "unless it says "
                 "`set "
                 "wins`."},
     WordMeaning{"counter", declaration, "counter NAME up E [down F] [reset R] from LOW to HIGH",
                 "Like a counter of edges: the rises of E up and those of F down, within its range; it "
                 "starts at LOW."},
     WordMeaning{
         "keep", declaration, "keep NAME = E when C starting V",
         "Like a sample and hold: takes the value of E while C is true and keeps it otherwise; V before the "
         "first "
         "time."},
     WordMeaning{
         "stages", declaration, "stages NAME is A | B | …",
         "Like a row of modes: it begins in the first, and in each tick the first of its lines that applies "
         "moves it."},
     WordMeaning{"tunable", declaration, "tunable NAME = V from LOW to HIGH",
                 "A number or a time with a name; the range says what may be tried in its place."},
     WordMeaning{"power_up", declaration, "power_up edges counted | ignored | either",
                 "Whether what is on when the power comes counts as just risen."},
     WordMeaning{"at", declaration, "at power_up: C", "Narrows what the hand may do in tick 0."},
     WordMeaning{"claim", declaration, "claim NAME \"sentence\": …",
                 "What must be true of every run, or possible in some."},
     WordMeaning{"assume", declaration, "assume NAME \"why\": …",
                 "Runs that break it are left out: every verdict then speaks only of hands that keep to it."},
     WordMeaning{"part", declaration, "part NAME(condition A, level B, count C, duration D) … end",
                 "A piece to use again."},
     WordMeaning{"use", declaration, "use NAME = PART(E, …)",
                 "Puts a part in, with elements of its own: `NAME.ok` is its `ok`."},
     WordMeaning{
         "include", declaration, "include \"file\"",
         "Brings in the parts of another file; the path starts at the folder of the file that includes."},
     WordMeaning{"rises", function, "rises(c)", "c comes on"},
     WordMeaning{"falls", function, "falls(c)", "c goes off"},
     WordMeaning{"changes", function, "changes(x)", "x is not what it was"},
     WordMeaning{"previous", function, "previous(x, starting V)", "x one tick ago"},
     WordMeaning{"held", function, "held(c, T)", "c for at least T"},
     WordMeaning{"recently", function, "recently(c, T)", "c at most T ago"},
     WordMeaning{"since", function, "since(c, e)", "c ever since e"},
     WordMeaning{"below", function, "below(x, L, until M)", "under L, with a gap"},
     WordMeaning{"above", function, "above(x, L, until M)", "over L, with a gap"},
     WordMeaning{"min", function, "min(x, y, …)", "the smallest of them"},
     WordMeaning{"max", function, "max(x, y, …)", "the largest of them"},
     WordMeaning{"abs", function, "abs(x)", "x without its sign"},
     WordMeaning{"hand", function, "hand(x)", "what the hand does"},
     WordMeaning{"and", inner, "a and b", "True if both are."},
     WordMeaning{"or", inner, "a or b", "True if one of them is, or both."},
     WordMeaning{"xor", inner, "a xor b", "True if one of the two is, not both."},
     WordMeaning{"not", inner, "not a", "True if it is not."},
     WordMeaning{"implies", inner, "a implies b", "If a is true, b is as well."},
     WordMeaning{"is", inner, "guard is run",
                 "Asks for a position, a stage, `pressed`, `released` or `lost`."},
     WordMeaning{"if", inner, "if C then E else F", "E while C is true, and F otherwise."},
     WordMeaning{"then", inner, "if C then E else F", "The value while the condition is true comes next."},
     WordMeaning{"else", inner, "if C then E else F", "The value otherwise comes next."},
     WordMeaning{"when", inner, "… when C", "The condition under which it applies comes next."},
     WordMeaning{"after", inner, "A -> B after T",
                 "In `stages`: so long after the stage was entered; in a claim: what must come before."},
     WordMeaning{"while", inner, "never P while Q", "Speaks of the ticks in which the condition is true."},
     WordMeaning{"within", inner, "whenever P: Q within T",
                 "At most T later, or at most T before; at once is good."},
     WordMeaning{"only", inner, "P only while Q", "Says what must go with P, or come before it."},
     WordMeaning{"lasts", inner, "P lasts at least T", "Says how long P stays on once it is."},
     WordMeaning{"for", inner, "… for T", "A time comes next."},
     WordMeaning{"restarting", inner, "pulse NAME on E for T restarting",
                 "A rise while the pulse is on starts its time again."},
     WordMeaning{"cancelled", inner, "cancelled by C",
                 "While C is true the pulse is off and nothing starts it."},
     WordMeaning{"by", inner, "cancelled by C", "The condition that cancels comes next."},
     WordMeaning{"set", inner, "set S", "What brings the latch on comes next."},
     WordMeaning{"reset", inner, "reset R", "What brings it off, or a counter to its lowest, comes next."},
     WordMeaning{"wins", inner, "set wins", "Says who wins while both are true."},
     WordMeaning{"starting", inner, "starting V",
                 "The value before the first tick, or before the first time."},
     WordMeaning{"up", inner, "up E", "What counts up comes next."},
     WordMeaning{"down", inner, "down F", "What counts down comes next."},
     WordMeaning{"from", inner, "from LOW to HIGH", "The lowest comes next."},
     WordMeaning{"to", inner, "from LOW to HIGH", "The highest comes next."},
     WordMeaning{"step", inner, "step STEP",
                 "The distance between two levels of a channel; 1 if it is not said."},
     WordMeaning{"moving", inner, "moving at most RATE per UNIT", "How fast a channel can be moved."},
     WordMeaning{"on", inner, "on E", "The condition that it looks at comes next."},
     WordMeaning{"true", inner, "true", "The condition that always holds."},
     WordMeaning{"false", inner, "false", "The condition that never holds."},
     WordMeaning{"any", inner, "any -> A when C", "From every stage; in A itself, it stays."},
     WordMeaning{"always", inner, "always P", "P in every tick."},
     WordMeaning{"never", inner, "never P", "P in no tick."},
     WordMeaning{"whenever", inner, "whenever P: Q", "Each tick with P has Q."},
     WordMeaning{"possible", inner, "possible P", "Some run has a tick with P."},
     WordMeaning{"until", inner, "below(x, L, until M)", "The level that switches back comes next."},
     WordMeaning{"end", inner, "part NAME(…) … end", "Ends a part."},
     WordMeaning{"edges", plain, "power_up edges counted", "What is true at power-up, as a rise or a fall."},
     WordMeaning{"counted", plain, "power_up edges counted",
                 "What is on counts as just risen, what is off as just fallen."},
     WordMeaning{"ignored", plain, "power_up edges ignored", "No edge at all in tick 0."},
     WordMeaning{"either", plain, "power_up edges either", "Both are tried, and a run says which it used."},
     WordMeaning{"carries", plain, "link NAME carries A, B, …",
                 "The inputs that the link carries come next."},
     WordMeaning{"lost", plain, "radio is lost",
                 "The link is down; behind `lost:` stands what the design sees then."},
     WordMeaning{"before", plain, "lost: as before",
                 "While the link is lost the design sees what arrived last."},
     WordMeaning{"as", plain, "lost: as before", "While the link is lost the design sees what arrived last."},
     WordMeaning{"pressed", plain, "stop is pressed", "The button is down."},
     WordMeaning{"released", plain, "stop is released", "The button is up."},
     WordMeaning{"most", plain, "at most", "The largest that is allowed comes next."},
     WordMeaning{"least", plain, "lasts at least T", "The shortest that is allowed comes next."},
     WordMeaning{"per", plain, "moving at most RATE per UNIT", "The unit of time of a rate comes next."},
     WordMeaning{"off", plain, "starting off", "Not on."},
     WordMeaning{"condition", plain, "condition NAME", "An argument that is true or false."},
     WordMeaning{"level", plain, "level NAME", "An argument that is a number with its unit."},
     WordMeaning{"count", plain, "count NAME", "An argument that is a plain number."},
     WordMeaning{"duration", plain, "duration NAME", "An argument that is a time."}});

}  // namespace

std::span<const WordMeaning> word_meanings() {
  return meanings;
}

const WordMeaning* meaning_of(std::string_view word) {
  const auto found = std::find_if(meanings.begin(), meanings.end(),
                                  [&](const WordMeaning& one) { return one.word == word; });
  return found == meanings.end() ? nullptr : &*found;
}

}  // namespace detent::dsl
