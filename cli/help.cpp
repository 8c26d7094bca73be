// Help. A test holds every option of the command line against these texts.
#include "cli/help.hpp"

#include <fmt/format.h>

#include "solver/version.hpp"

namespace detent::cli {

std::string general_help() {
  return R"(detent: does the interlock hold, whatever the hands do?

A design is a text: switches, sticks, timers and latches of a hand-held
transmitter or a small machine, and claims about them. detent tries every
movement of every input at every tick. A claim that can be broken is shown
broken, by the shortest run there is, told so that you can act it out.

  detent check FILE     check every claim of a design
  detent show FILE      list what was read: signals, syntax tree or circuit
  detent --version      this program's version, and the solver's
  detent COMMAND --help every option of a command

Exit status: 0 every claim holds, 1 a claim is refuted, 2 the text or the
command line is wrong, 3 undecided, 4 a fault in detent itself.

Example:
  detent check boat.detent --within "20 s"
)";
}

std::string check_help() {
  return R"(detent check FILE: check every claim of a design, over every run up to a bound

  FILE                  the design; - reads standard input
  --within "N ticks"    how far to look, in ticks or as a time ("20 s"); without
                        it, twice the longest time in the design and 50 ticks
                        more, but at least 100 and at most 2000 ticks
  --claim NAME          check this claim only; may be given more than once
  --timeout TIME        stop after this time, for example 30s or 5min; what is
                        not decided by then is reported undecided
  --memory AMOUNT       the most memory to use, for example 2GiB

  --format text|json    a page for people, or everything for programs
                        (the form is laid down in check.schema.json)
  --width N             columns of the page; else those of the terminal, or 80
  --color WHEN          auto, always or never; auto heeds NO_COLOR
  --all-signals         also show signals that have no bearing on the claim
  --statistics          also show what the check cost
  -h, --help            this text

Ctrl-C stops the check and tells what is known so far; a second one ends it
at once.

Verdicts:
  proved up to N ticks  no run of N ticks breaks the claim; it says nothing
                        about longer ones
  REFUTED               a run breaks it, and no shorter one does
  possible              a run does what the claim asks for, and is shown
  undecided             a limit was reached first

Exit status: 0 every claim holds, 1 a claim is refuted, 2 the text or the
command line is wrong, 3 undecided (and none refuted), 4 a fault in detent.

Examples:
  detent check boat.detent
  detent check boat.detent --claim in_time --within "30 s" --timeout 5min
  detent check boat.detent --format json > verdicts.json
)";
}

std::string show_help() {
  return R"(detent show FILE [signals|tree|circuit]: list what was read

  FILE                  the design; - reads standard input
  signals               every input, element and output with its values
                        (this is what is shown if you name nothing)
  tree                  the syntax tree: how the text was understood
  circuit               the circuit: what the claims are checked on
  -h, --help            this text

Example:
  detent show boat.detent circuit
)";
}

std::string version_text() {
  return fmt::format("detent {}, on Z3 {}\n", DETENT_VERSION, solver::solver_version());
}

}  // namespace detent::cli
