// Options that several commands explain alike.
#pragma once

#include <string>

namespace detent::cli {

/// Of the commands that ask many questions, after --timeout.
[[nodiscard]] std::string limit_options();
/// Of the commands whose work can be shared by several machines.
[[nodiscard]] std::string shard_option();
/// `command`: whose schema lays the JSON down.
[[nodiscard]] std::string page_options(const std::string& command);
/// The same for a command with forms of its own: what --format may say, and what that is.
[[nodiscard]] std::string page_options(const std::string& formats, const std::string& explained);

}  // namespace detent::cli
