// The values of tunables for programs. The form is laid down in tune.schema.json, beside this file.
#pragma once

#include <string>

#include "cli/tune_study.hpp"

namespace detent::cli {

/// "holds", "fails", … as the form has them.
[[nodiscard]] const char* standing_word(solver::Standing standing);

/// One JSON document, indented, with a line end. Also for a text with errors: then without studies.
[[nodiscard]] std::string tune_json_text(const TuneResult& result);

}  // namespace detent::cli
