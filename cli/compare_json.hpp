// The whole comparison for programs. The form is laid down in compare.schema.json, beside this file.
#pragma once

#include <string>

#include "cli/compare_result.hpp"

namespace detent::cli {

/// One JSON document, indented, with a line end. Also for texts with errors: then without answers.
[[nodiscard]] std::string compare_json_text(const CompareResult& result);

}  // namespace detent::cli
