// Options that several commands explain alike.
#pragma once

#include <string>

namespace detent::cli {

/// Of the commands that ask many questions, after --timeout.
[[nodiscard]] std::string limit_options();
/// `command`: whose schema lays the JSON down.
[[nodiscard]] std::string page_options(const std::string& command);
/// The same for a command with forms of its own: what --format may say, and what that is.
[[nodiscard]] std::string page_options(const std::string& formats, const std::string& explained);

}  // namespace detent::cli
