// Help for work that several machines share.
#include "cli/help.hpp"
#include "cli/help_parts.hpp"

namespace detent::cli {

std::string shard_option() {
  return R"(  --shard K/N           look only at the Kth of N parts of all this, and print
                        what detent merge joins to the answer of one run
)";
}

std::string merge_help() {
  return R"(detent merge SHARDS: the answer of one run from all its parts

  SHARDS                files that --shard 1/N to --shard N/N have written, in
                        any order
  -o, --output FILE     where the answer goes; - or nothing is standard output.
                        It is written whole or not at all

  --format text|json    a page for people, or everything for programs (the form
                        is that of the command that the shards are of)
  --jobs N              work with N threads; if not said, as many as the machine
                        has cores
  --all-runs            shards of faults: show the run of every claim that falls
  --all-signals         shards of check and tune: also show signals that have no
                        bearing on a claim
  --statistics          shards of check and tune: also show what it cost
  --width N             columns of the page; else those of the terminal, or 80
  --color WHEN          auto, always or never; auto heeds NO_COLOR
  -h, --help            this text

Text and JSON are those of one run of detent check, faults or tune. In JSON
these differ: cost and statistics, which are summed, and of tune how a value was
decided (ticks and proved_with).
A shard that is missing, there twice, damaged, or of another run is named, and
then nothing is joined. What a shard left undecided is undecided.
Every run in a shard is played again before it is told. Of tune the shortest runs
at the edges are found here, as an edge may lie between two shards.

Exit status: as of the one run. 2 also if the shards don't fit together.

Example:
  detent faults winch.detent --pairs --shard 1/2 > 1.json
  detent faults winch.detent --pairs --shard 2/2 > 2.json
  detent merge 1.json 2.json
)";
}

}  // namespace detent::cli
