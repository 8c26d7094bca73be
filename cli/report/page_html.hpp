// The page as one file of HTML that needs nothing else: no network, no server, no other file.
#pragma once

#include <string>

#include "cli/report/page_model.hpp"

namespace detent::cli::report {

[[nodiscard]] std::string page_html(const ReportPage& page);

}  // namespace detent::cli::report
