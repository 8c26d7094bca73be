// The forms that a whole check can be had in for programs, and what each is called.
#pragma once

#include <string>
#include <vector>

#include "cli/check_result.hpp"

namespace detent::cli {

/// "json", "sarif" and "junit".
[[nodiscard]] const std::vector<std::string>& check_formats();
[[nodiscard]] bool is_check_format(const std::string& format);

/// `format` is one of check_formats().
[[nodiscard]] std::string formatted_check(const CheckResult& result, const std::string& format);
/// Of several designs; `format` is "sarif" or "junit".
[[nodiscard]] std::string formatted_checks(const std::vector<const CheckResult*>& results,
                                           const std::string& format);

}  // namespace detent::cli
