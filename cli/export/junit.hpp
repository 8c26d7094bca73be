// A check as JUnit XML, in the strict form that Ant writes, for build servers.
#pragma once

#include <ctime>
#include <string>
#include <vector>

#include "cli/check_result.hpp"

namespace detent::cli {

/// A suite for each design; each claim is a test case: passed if it holds, `failure` with the told run if it
/// is refuted, `error` if it is undecided, so that no build goes green on what nobody knows. Where nothing
/// was checked there is one test case, with an `error`. Warnings go to system-out. `now` is when the check
/// was made.
[[nodiscard]] std::string junit_text(const std::vector<const CheckResult*>& results, std::time_t now);

}  // namespace detent::cli
