// Help of the commands that ask a check over and over: of two designs, of altered ones, of other values.
#include "cli/help.hpp"
#include "cli/help_parts.hpp"

namespace detent::cli {

std::string compare_help() {
  return R"(detent compare A B: two designs side by side, in every run of any length

  A, B                  the designs; - reads one of them from standard input
  --match a=b           what A calls a is what B calls b; may be given more than
                        once. What has one name in both is matched anyway
  --goal CONDITION      what the steps of a design lead to, by the names of A;
                        if not said, what A's first 'possible' claim asks for
  --lock CONDITION      what is to stop everything; if not said, what resets the
                        latch that is the goal
  --rest CONDITION      the outputs stand still; if not said, every output is at
                        its value behind 'else', or off
  --timeout TIME        the time for each question; 60 s if not said
)" + limit_options() +
         R"(
)" + page_options("compare") +
         R"(  --brief               the answers alone, without the runs
  --all-signals         also show signals that have no bearing on a difference
  --statistics          also show what it cost
  -h, --help            this text

Inputs that both have are moved together; an input that only one has moves
freely. For each output and element that both have: proved the same in every
run of any length, or a run of the fewest events in which they part, in either
direction. Then every claim of either, asked of both; and for each design

  - the fewest movements from power-up to the goal: an input that has another
    value than one tick before is a movement (a channel with a rate limit that
    goes on in one direction moves once; a link that is lost or comes back
    counts too); where it stands at power-up is free;
  - the fewest inputs that move at all on the way, however often: one means that
    a slip of a single hand will do;
  - the shortest time from power-up to the goal;
  - the fewest movements from the goal until it is off again;
  - the longest time from the lock going on to the outputs at rest, while the
    lock stays on.

Each figure is exact, with a run that shows it and a proof that there is no
better; else it is said how far it is known.

Ctrl-C tells what is known so far; a second one ends it at once.

Exit status: 0 the same in all that both have, 1 they differ, 2 a text or the
command line is wrong, 3 undecided, 4 a fault in detent.

Examples:
  detent compare old.detent new.detent
  detent compare old.detent new.detent --match thrust=throttle --goal live
)";
}

std::string faults_help() {
  return R"(detent faults FILE: which claims still hold with a fault in the design

  FILE                  the design; - reads standard input
  --fault NAME          look at this fault only, and show what it leads to; its
                        name as the table has it, in quotes; may be given more
                        than once
  --pairs               also look at every two faults of different elements that
                        the design survives one by one
  --all-runs            show the run of every claim that falls
  --tolerance SHARE     how wrong a timer may run; "10 %" if not said, and at
                        least a tick
  --bounce TIME         how long a contact bounces; "3 ticks" if not said
)" + shard_option() +
         R"(
  --timeout TIME        for each claim with each fault; 20 s if not said
)" + limit_options() +
         page_options("faults") + R"(  -h, --help            this text

The faults: an input read as stuck at its ends, at rest, at each position, or
at what it is while its link is lost; a contact that bounces; a link that is
lost unnoticed, keeps what came last, or is lost for good; a condition, stage,
output, counter or kept value that is stuck; a timer too fast or too slow; a
latch that starts otherwise.

What a claim says of an input is what the hand does, not what the design reads.
The same goes for a signal or timer that is made of inputs alone and that the
design builds on. Of all else a claim tells what the faulty design does.

Ctrl-C stops the study and tells what is known so far; a second one ends it at
once.

Exit status: 0 no claim falls, 1 a claim falls, 2 the text or the command line
is wrong, 3 undecided (and none falls), 4 a fault in detent.

Examples:
  detent faults winch.detent
  detent faults winch.detent --fault "cover stuck pressed"
  detent faults winch.detent --pairs --tolerance "5 %" --format json
)";
}

std::string gaps_help() {
  return R"(detent gaps FILE: what the claims of a design do not watch

  FILE                  the design; - reads standard input
  --timeout TIME        for each claim of each changed design; 20 s if not said
)" + limit_options() +
         page_options("gaps") + R"(  -h, --help            this text

The design is changed a little, in one place after another: a condition always
on, always off or inverted, or left out where it is joined with others; a
threshold a step higher or lower; a time a tick longer or shorter; a latch that
lets the other side win, or starts otherwise; a line of stages left out. Where
every claim still holds, nobody would notice.
Changes that never show at an output are no gaps, and are listed apart.

Also: claims that add nothing the others do not notice, assumptions that no
proof needs, and what is possible only thanks to an odd power-up.

Ctrl-C stops the study and tells what is known so far; a second one ends it at
once.

Exit status: 0 no gap, 1 there are gaps, 2 the text or the command line is
wrong, 3 undecided (and no gap), 4 a fault in detent.

Example:
  detent gaps boat.detent
)";
}

std::string tune_help() {
  return R"(detent tune FILE: for which values of each tunable do all claims hold?

  FILE                  the design; - reads standard input
  --only NAME           this tunable only; one of a part is PART.NAME
  --together A B        these two together: every value of A with every of B
  --step AMOUNT         how far the values lie apart, for example "100 ms" or
                        "5 %", for every tunable with such a unit; counted from
                        the written value. If not said: a tick for times, and
                        for levels one of the last digit of the written value
                        (-98 %: 1 %; -98.0 %: 0.1 %)
)" + shard_option() +
         R"(  --timeout TIME        for each claim and value; 60 s if not said
)" + limit_options() +
         R"(
)" + page_options("tune") +
         R"(  --all-signals         also show signals that have no bearing on a claim
  --statistics          also show what it cost
  -h, --help            this text

Every value in the range is decided: by a run of the design with that value that
breaks a claim, or by a proof for all time of every claim (and a run for every
'possible' one). A proof may hold for many values at once, with the value as an
unknown in it; but nothing is concluded from the edges of a range to what lies
between, so that it does not matter whether more is always better. All other
tunables stay as written.

Ctrl-C tells what is known so far; a second one ends it at once.

Exit status: 0 the written values hold, and all is known of the others, 1 the
written values fail, 2 the text or the command line is wrong, 3 a value is
undecided, 4 a fault in detent.

Examples:
  detent tune boat.detent
  detent tune boat.detent --only patience --step "100 ms"
  detent tune boat.detent --together patience rest
)";
}

std::string report_help() {
  return R"(detent report FILE -o report.html: the check as one page to show

  FILE                  the design; - reads standard input
  -o, --output FILE     where the page goes; - or nothing is standard output.
                        It is written whole or not at all
  --compare B           also: where this design and B part
  --tune                also: for which values of each tunable all claims hold
  --faults              also: which claims still hold with a fault
  --gaps                also: what no claim watches
  --claim NAME          only this claim; may be given more than once
  --within TIME         only runs up to this time, or so many ticks

  --timeout TIME        for each claim; 60 s if not said, and 20 s for each claim
                        with a fault or a small change
)" + limit_options() +
         R"(  --all-signals         also show signals that have no bearing on the claim
  -h, --help            this text

The page needs no network and no other file. The design is drawn as a picture;
each run can be stepped through, by keys, buttons and a slider, while picture,
timing diagram and story move along. It prints on A4 with every run.
The picture is laid out by the program dot of Graphviz.

Ctrl-C stops what is being looked at; the page tells what is known so far.

Exit status: as of detent check. 0 every claim holds, 1 a claim is refuted, 2
the text or the command line is wrong or the page can't be written, 3 undecided
(and none refuted), 4 a fault in detent.

Examples:
  detent report boat.detent -o boat.html
  detent report boat.detent -o boat.html --compare old.detent --faults --gaps
)";
}

}  // namespace detent::cli
