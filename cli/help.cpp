// Help. A test holds every option of the command line against these texts.
#include "cli/help.hpp"

#include <fmt/format.h>

#include "cli/help_parts.hpp"
#include "solver/version.hpp"

namespace detent::cli {

std::string general_help() {
  return R"(detent: does the interlock hold, whatever the hands do?

A design is a text: switches, sticks, timers and latches of a hand-held
transmitter or a small machine, and claims about them. detent tries every
movement of every input at every tick. A claim that can be broken is shown
broken, by the shortest run there is, told so that you can act it out.

  detent check FILE     check every claim of a design
  detent compare A B    two designs side by side: where they part, and what
                        it takes to unlock and stop each
  detent why FILE --claim NAME
                        what a proof rests on, or what led to a broken claim
  detent faults FILE    which claims still hold with a fault in the design
  detent gaps FILE      what the claims do not watch
  detent tune FILE      for which values of each tunable all claims hold
  detent merge SHARDS   join what several machines have found of one sweep
  detent report FILE -o report.html
                        the check as a page to show, with runs to step through
  detent export FILE --as FORMAT
                        the check, a run, a question or a picture for other
                        programs: json, sarif, junit, vcd, smt2 or dot
  detent lsp            talk to an editor: verdicts and help where you write
  detent step FILE      play the design by hand, or a run that breaks a claim
  detent replay FILE LOG.csv
                        hold a recording from the bench against the design
  detent drill FILE     a list of movements to work through at the bench
  detent recheck FOLDER --solver COMMAND
                        let another solver confirm the proofs
  detent new --from FUNCTION
                        begin a design from a safety function; detent new
                        lists them
  detent lesson         nine short lessons, from what a claim is to a design
                        of your own
  detent format FILE... lay designs out afresh: columns, blanks, line ends
  detent show FILE      list what was read: signals, syntax tree or circuit
  detent --version      this program's version, and the solver's
  detent COMMAND --help every option of a command

Exit status: 0 every claim holds, 1 a claim is refuted, 2 the text or the
command line is wrong, 3 undecided, 4 a fault in detent itself.

Example:
  detent check boat.detent
)";
}

std::string check_help() {
  return R"(detent check FILE: check every claim of a design, in every run of any length

  FILE                  the design; - reads standard input. Of several designs
                        each is checked, and counted at the end
  --within "N ticks"    look only so far, in ticks or as a time ("20 s"), tick
                        by tick, and show runs that are shortest in ticks; auto:
                        twice the longest time in the design and 50 ticks more,
                        but at least 100 and at most 2000 ticks
  --claim NAME          check this claim only; may be given more than once
  --timeout TIME        stop after this time, for example 30s or 5min; what is
                        not decided by then is reported undecided. Without
                        --within it is the time for each claim, 60 s if not said
  --total-timeout TIME  for all claims (and designs) together, for example 5min
  --memory AMOUNT       the most memory to use, for example 2GiB
  --jobs N              work on claims with N threads; if not said, as many as
                        the machine has cores; refused with --within, which
                        works on one
  --evidence FOLDER     write what the verdicts rest on into this folder: each
                        proof as three SMT-LIB questions for any solver, each
                        run as JSON and VCD
  --explain             instead of the verdict alone: what the solver was given
                        for one tick, beside the lines of the design that made
                        it, in words first and SMT-LIB second; of one claim
  --run RUN             look at the one run in this file (NAME.run, as written
                        by detent step or by hand, or NAME.run.json), and tell
                        what each claim says of it; the forms are laid down in
                        formats.md, what --format json prints in run.schema.json
)" + shard_option() +
         R"(
)" +
         page_options("text|json|sarif|junit",
                      "a page for people, or for programs: everything (the\n"
                      "                        form is laid down in check.schema.json), SARIF 2.1.0,\n"
                      "                        or JUnit XML") +
         R"(  --all-signals         also show signals that have no bearing on the claim
  --statistics          also show what the check cost
  -h, --help            this text

Ctrl-C stops the check and tells what is known so far; a second one ends it
at once.

Verdicts:
  proved                no run, of any length, breaks the claim
  proved up to N ticks  no run of N ticks breaks it; that says nothing about
                        longer ones (with --within)
  REFUTED               a run breaks it: one with the fewest events, then the
                        fewest movements, then the fewest ticks; where a hand
                        begins at rest or ends at its stop for the sake of the
                        reader, it may be a movement more
  possible              a run does what the claim asks for, and is shown
  undecided             a limit was reached first

Exit status: 0 every claim holds, 1 a claim is refuted, 2 the text or the
command line is wrong or assumptions contradict each other, 3 undecided (and
none refuted), 4 a fault in detent.

Examples:
  detent check boat.detent
  detent check boat.detent --claim in_time --within "30 s" --timeout 5min
  detent check boat.detent --format json > verdicts.json
  detent check boat.detent winch.detent
)";
}

std::string why_help() {
  return R"(detent why FILE --claim NAME: the reasons for one verdict

  FILE                  the design; - reads standard input
  --claim NAME          the claim
  --format text|json    a page for people, or everything for programs (the form
                        is laid down in why.schema.json)
  --timeout TIME        stop after this time; 60 s if not said
  -h, --help            this text

For a claim that is proved: the signals and assumptions that the proof needs,
and those that could do anything at all without harm to it. For one that is
refuted: only the movements and elements that led to it, each with its reason.

Example:
  detent why boat.detent --claim lock_is_instant
)";
}

std::string recheck_help() {
  return R"(detent recheck FOLDER --solver COMMAND: let another solver confirm the proofs

  FOLDER                made by detent check FILE --evidence FOLDER
  --solver COMMAND      any solver for SMT-LIB 2.6 that takes a file and prints
                        sat or unsat; the file's name is added to the command
  --timeout TIME        for each question; 60 s if not said
  -h, --help            this text

Each proof is three questions. They must speak of the same invariant and the
same step, and hold nothing else than what makes them a proof; the solver must
answer unsat to all three, and sat to whether a step can be taken at all.

What is not compared, as the design is not in the folder: the step, the values
at the start and the condition in question. If you do not trust whoever had the
folder, make it afresh from the design with detent check.

Exit status: 0 every proof is confirmed, 1 one is wrong, 2 the command line or
the folder is wrong, 3 the solver could not decide one.

Example:
  detent recheck proofs --solver cvc5
)";
}

std::string show_help() {
  return R"(detent show FILE [signals|tree|circuit]: list what was read

  FILE                  the design; - reads standard input
  signals               every input, element and output with its values
                        (this is what is shown if you name nothing)
  tree                  the syntax tree: how the text was understood
  circuit               the circuit: what the claims are checked on
  --format text|json    of the signals: also for programs, with the claims (the
                        form is laid down in show.schema.json)
  -h, --help            this text

Example:
  detent show boat.detent circuit
)";
}

std::string new_help() {
  return R"(detent new [--from FUNCTION [-o FILE]]: begin with a safety function

  Without --from the safety functions that come with detent are listed, with a
  line each.

  --from FUNCTION       write this one as a design of your own, to be changed
  -o, --output FILE     the file to write; if not said, FUNCTION.detent in this
                        folder. A file that is there already is left alone.
                        - writes to standard output
  -h, --help            this text

What is written stands alone and checks as it is. It is an example of a
function, not a proof of your machine.

Example:
  detent new --from emergency_stop -o my_stop.detent
)";
}

std::string lesson_help() {
  return R"(detent lesson [LESSON]: learn it, question by question

  LESSON                a number or a name; without it the lessons are listed.
                        The file of a lesson of your own will do as well, if its
                        name ends in .md or has a / in it
  --with FILE           hold a design of your own against the lesson: its
                        claims, and what else it asks for
  --write FOLDER        write the lesson's designs into this folder, to be
                        changed; a file that is there already is left alone
  --all-at-once         show everything, and wait for no answer

  --timeout TIME        the time for each claim, 60 s if not said
  --memory AMOUNT       the most memory to use, for example 2GiB
  --jobs N              work on claims with N threads; if not said, as many as
                        the machine has cores
  --width N             columns of the page; else those of the terminal, or 80
  --color WHEN          auto, always or never; auto heeds NO_COLOR
  -h, --help            this text

You answer first, with the number of a choice or in your own words, and then the
machine decides, there and then: no verdict stands in a lesson. Enter alone says
that you have no idea, q stops. Where the input ends, the rest follows without
asking.

Exit status: 0 the lesson was given, whatever was answered, or all that --with
asks is met; 1 something of it is not met; 2 the command line, a lesson or a
design is wrong; 3 something was not decided in time; 4 a fault in detent
itself.

Example:
  detent lesson 1
)";
}

std::string version_text() {
  const std::string loaded = solver::solver_version();
  const std::string compiled = solver::compiled_solver_version();
  return fmt::format("detent {}, on Z3 {}{}\n", DETENT_VERSION, loaded,
                     loaded == compiled ? "" : fmt::format(" (built with Z3 {})", compiled));
}

}  // namespace detent::cli
