// Help for the commands by hand and from the bench.
#include "cli/help.hpp"
#include "cli/step_text.hpp"

namespace detent::cli {

std::string step_help() {
  return R"(detent step FILE: play a design by hand

  FILE                  the design
  --claim NAME          find a run that breaks this claim, and stand before its
                        first step
  --timeout TIME        for that search; 60 s if not said
  --memory AMOUNT       the most memory for it, for example 2GiB
  --jobs N              the threads for it
  --width N             columns of the page; else those of the terminal, or 80
  --color WHEN          auto, always or never; auto heeds NO_COLOR
  -h, --help            this text

Commands, typed at a terminal or from a pipe:

)" + step_commands_text() +
         R"(
A movement is seen by the design in the next tick, which it takes. What the
design takes for granted (assume, at power_up) can't be done: it is refused with
the reason, and time stands still where it would come of itself. A channel with
a rate limit goes where it is sent as fast as that allows, while time passes.

From a pipe each command is printed with its answer; the first that can't be
done ends it, with exit status 2. Typed lines are remembered in
$XDG_STATE_HOME/detent/history where that variable is set, and nowhere else.

Exit status: 0, 2 the text or a command is wrong, 4 a fault in detent.

Examples:
  detent step boat.detent
  detent step boat.detent --claim window_closes
  echo "power on; guard run; 500 ms; claims" | detent step boat.detent
)";
}

std::string replay_help() {
  return R"(detent replay FILE LOG.csv: hold a recording from a bench against the design

  FILE                  the design; - reads standard input
  LOG.csv               the recording: RFC 4180, or with ; or tabs; the first row
                        names the columns (formats.md); - reads standard input
  --time "NAME UNIT"    the column of the time and its unit, for example
                        --time "t ms"; if not said, the column 'time', with the
                        unit that its header says
  --column NAME=HEADER  the column for an input, output or element of the design
                        that has another name in the log
  --scale NAME=A..B:C..D
                        A and B in the log are C and D in the design, and all
                        between and beyond on a straight line, for example
                        --scale "thrust=1000..2000 us:-100..100 %"
  --words NAME=TEXT:VALUE,...
                        what cells mean, for example --words "guard=0:safe,1:run"
                        or with ranges "guard=900..1300:safe,1700..2100:run"
  --still NAME=VALUE    an input without a column stood still there
  --tolerance-time TIME how much earlier or later the same may be seen; a tick
                        if not said
  --tolerance-level AMOUNT
                        how far levels may lie apart, for example "2 %" for all
                        in percent, or "jet=2 %"; exactly the same if not said

  --format text|json    a page for people, or everything for programs
                        (the form is laid down in replay.schema.json)
  --width N             columns of the page; else those of the terminal, or 80
  --color WHEN          auto, always or never; auto heeds NO_COLOR
  -h, --help            this text

  --column, --scale, --words, --still and --tolerance-level may be given more
  than once.

The hands of the log move the model, and whatever else the log has a column for
is compared. They agree where, at every moment, what the one shows the other
shows too, within the tolerance in time and level: so an edge may come a little
early or late, and a pulse that only one of them has is found.

The first row is power-up. What a row says holds until the next. The model sees
a movement at its next tick, and what moved since the last tick together;
another order within one tick is not tried. An input that goes somewhere and
back between two ticks is told, and the exit status is 1: the model never sees
it. (A level does so where it leaves the way between two ticks by more than its
--tolerance-level.) Rows with the same time must not contradict each other, and
at least one output or element must be in the log. Levels of inputs are taken to the
nearest step of their channel. Times count to the nanosecond, levels to a
millionth of the last digit that the design knows of them. Claims are asked of
the model, moved by the log's hands. To what the last row says it is held as if
it lasted for the tolerance.

Ctrl-C stops it and tells what is known so far.

Exit status: 0 they agree and no claim breaks, 1 they part, a claim breaks, the
model could not see what an input did, or the hands did what the design takes
for granted never to happen, 2 the design,
the log or the command line is wrong, 3 stopped before the end.

Examples:
  detent replay boat.detent bench.csv
  detent replay boat.detent bench.csv --time "t ms" --column thrust=ch3 \
    --scale "thrust=1000..2000 us:-100..100 %" --tolerance-time "40 ms"
)";
}

std::string drill_help() {
  return R"(detent drill FILE: a list of movements to work through at the bench

  FILE                  the design; - reads standard input
  --format md|html|csv|json
                        a list to read or print (Markdown if not said), a page to
                        print, a table to fill in, or everything for programs (the
                        form is laid down in drill.schema.json)
  -o, --output FILE     write it to this file, which must not be there yet; a
                        table of several rounds becomes FILE-1.csv, FILE-2.csv, …
  --round N             of a table: this round only
  --run NAME.run        a run to be part of the list, such as one that broke a
                        claim before the design was mended (formats.md); may be
                        given more than once
  --elements            say what to expect of every element, not of outputs alone
  --masking             conditions are shown to matter by masking MC/DC; if not
                        said, by unique-cause MC/DC
  --no-changes          do not take the list on until it shows every small change
                        of the design that can be shown
  --timeout TIME        for each question; 20 s if not said
  --total-timeout TIME  for all of it together, for example 5min; what is known
                        by then is told, the rest is undecided
  --memory AMOUNT       the most memory to use, for example 2GiB
  --jobs N              work with N threads; if not said, as many as the machine
                        has cores
  --width N             columns of messages; else those of the terminal, or 80
  --color WHEN          auto, always or never; auto heeds NO_COLOR
  -h, --help            this text

The list takes every input to each of its positions, drives every element both
ways, every window to its end, every latch to set and reset, does what each
possible claim says, shows every condition of every decision to matter on its
own, and makes every small change of the design (as in detent gaps) show at an
output. One thing is moved at a time, 200 ms or more after the last; what can't
be done so is marked.

A table has the columns of a log (formats.md), with empty ones for what is seen.
Filled in, it goes back: detent replay FILE NAME.csv. What is expected stands in
columns of its own.

Ctrl-C stops it and tells what is known so far.

Exit status: 0 all of it is on the list, or proved out of reach, 2 the design, a
run or the command line is wrong, 3 something is undecided or was missed.

Examples:
  detent drill boat.detent --format html -o bench.html
  detent drill boat.detent --format csv -o bench.csv --run slip.run
)";
}

}  // namespace detent::cli
