#include "cli/help.hpp"

namespace detent::cli {

std::string export_help() {
  return R"(detent export FILE --as FORMAT: a design for other programs

  FILE                  the design; - reads standard input
  --as FORMAT           one of these:

    json                the whole check, as check --format json prints it
    sarif               the whole check as SARIF 2.1.0, for build servers and
                        editors: a result for each claim at its line, with its
                        run as a code flow; mistakes and warnings of the text
    junit               the whole check as JUnit XML: a test for each claim
    vcd                 a run as a value change dump (IEEE 1364): of the claim
                        that is refuted or, if none is, possible; or --run
    smt2                a claim as questions in SMT-LIB 2.6, for any solver.
                        With --within: does a run of up to so many ticks break
                        it? Without: what its verdict rests on; of a proof its
                        three questions, all to be answered unsat; of a run,
                        whether there is one of its length, to be answered sat
    dot                 a picture for Graphviz: the inputs, elements and
                        outputs, or with --circuit the circuit

  -o, --output FILE     the file to write; what was in it is replaced when the
                        new one is whole. If not said, and for -, standard
                        output
  --claim NAME          this claim only; json, sarif and junit take several. If
                        several claims have a run, vcd needs one named; smt2
                        takes one; of a circuit, what the claim depends on
  --within "N ticks"    look only so far, as in detent check; not for dot
  --run RUN             json: what each claim says of the run in this file; vcd:
                        that run
  --circuit             dot: the circuit that the claims are checked on
  --timeout TIME        the time for each claim, 60 s if not said
  --memory AMOUNT       the most memory to use, for example 2GiB
  --jobs N              work on claims with N threads; if not said, as many as
                        the machine has cores
  -h, --help            this text

Exit status: as detent check, where claims are checked: 0 every claim holds, 1 a
claim is refuted, 2 the text or the command line is wrong, or there is no such
run; 3 undecided, 4 a fault in detent. Where nothing is checked (dot, smt2 with
--within, vcd with --run) 0 says that it was written. For a text with errors
json, sarif and junit are written all the same, and say so.

Examples:
  detent export boat.detent --as sarif -o boat.sarif
  detent export boat.detent --as smt2 --claim in_time --within "30 ticks"
)";
}

}  // namespace detent::cli
