#include "cli/help.hpp"

namespace detent::cli {

std::string lsp_help() {
  return R"(detent lsp: talk to an editor, by the Language Server Protocol 3.17

  The editor starts it and talks to it on standard input and output: mistakes as
  you type, verdicts when a text is opened or saved, and where a claim is refuted
  the run that breaks it, line by line; meanings, names, completion, layout.

  --timeout TIME        the time for each claim, 60 s if not said
  --memory AMOUNT       the most memory to use, for example 2GiB
  --jobs N              work on claims with N threads; if not said, as many as
                        the machine has cores
  -h, --help            this text

A verdict is of the text as it was saved: at the first change it goes.

Exit status: 0 the editor has said that it is done, 1 it went away without a
word, 2 the command line is wrong.

Example, as an editor's setting:
  command: detent lsp
)";
}

}  // namespace detent::cli
