// Rows of comma-separated values, as RFC 4180 has them.
#pragma once

#include <string>
#include <vector>

namespace detent::cli {

/// One row with its line end (CR LF); fields are put in quotes where they need them.
[[nodiscard]] std::string csv_row(const std::vector<std::string>& fields);

}  // namespace detent::cli
