// Options that several commands explain alike.
#pragma once

#include <string>

namespace detent::cli {

/// Of the commands that ask many questions, after --timeout.
[[nodiscard]] std::string limit_options();
/// `command`: whose schema lays the JSON down.
[[nodiscard]] std::string page_options(const std::string& command);

}  // namespace detent::cli
