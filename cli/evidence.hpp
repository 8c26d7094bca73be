// A folder of evidence: what a verdict rests on, for those who would rather not trust this program.
#pragma once

#include <optional>
#include <string>

#include "cli/check_result.hpp"
#include "cli/result.hpp"

namespace detent::cli {

/// For each claim that is proved for all time three SMT-LIB questions (NAME.start.smt2, NAME.step.smt2,
/// NAME.claim.smt2), for each run that refutes or shows one NAME.run.json and NAME.run.vcd; and index.json,
/// which lists them with a digest of each and is put there last. Each file is complete or not there. The
/// folder is made if it is missing; what an earlier check has written there stays whole until all that comes
/// in its place is on the disk, and goes then. A problem, or nothing.
[[nodiscard]] std::optional<CommandResult> write_evidence(const std::string& folder,
                                                          const CheckResult& result);

/// Whether evidence can be written there, tried before a check that may take long: makes the folder if it is
/// missing, and leaves what is in it as it is. A problem, or nothing.
[[nodiscard]] std::optional<CommandResult> try_evidence_folder(const std::string& folder);

}  // namespace detent::cli
