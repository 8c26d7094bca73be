#include "cli/help.hpp"

namespace detent::cli {

std::string format_help() {
  return R"(detent format FILE...: lay designs out afresh, in place

  FILE                  a design, or several; what it includes is left alone.
                        - reads standard input and writes standard output
  --check               change nothing, and name the files that would change
  -h, --help            this text

Every word and every comment stays, and so does what the design means: only
blanks, columns, empty lines and some line ends change. A file that is well laid
out is not written. One with a mistake of grammar is left as it is.

Exit status: 0 all is laid out, 1 a file would change (with --check), 2 a file
can't be read or written or has a mistake of grammar, or the command line is
wrong.

Examples:
  detent format boat.detent
  detent format --check specs/*.detent
)";
}

}  // namespace detent::cli
