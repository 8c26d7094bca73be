// The whole check for programs. The form is laid down in check.schema.json, beside this file.
#pragma once

#include <string>

#include "cli/check_result.hpp"

namespace detent::cli {

/// One JSON document, indented, with a line end. Also for a text with errors: then without verdicts.
[[nodiscard]] std::string json_text(const CheckResult& result);

}  // namespace detent::cli
