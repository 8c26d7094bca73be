// Many designs in one check, a shard's part of it, and the check from all parts.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/check_result.hpp"
#include "cli/options.hpp"
#include "cli/settings.hpp"
#include "cli/shard/faults_part.hpp"
#include "cli/shard/strict_json.hpp"

namespace detent::cli {

/// Of each design what was found, in the order of the command line. Of one that belongs to another shard:
/// nothing.
using Checks = std::vector<std::optional<CheckResult>>;

/// By what a script decides: a text that is wrong first, then a refuted claim, then an undecided one.
[[nodiscard]] Status status_of(const Checks& checks);

/// A page for each design, then how many there are of each kind; or all of it in one of the forms for
/// programs (JSON: checks.schema.json). What can't be checked is told as an error, and the others all the
/// same. One design alone is answered as ever.
[[nodiscard]] CommandResult checks_answer(const CheckOptions& options, const Settings& settings,
                                          const Checks& checks);

[[nodiscard]] Json checks_part(const Checks& checks);
/// Puts the reports of a part into `planned`, which has every design without a report. Throws Misfit.
void join_checks(Checks& planned, const PartOf& part);

}  // namespace detent::cli
