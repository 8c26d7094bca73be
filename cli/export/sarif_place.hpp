// Places as SARIF has them. Private to the SARIF log.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/json_run.hpp"
#include "dsl/source.hpp"

namespace detent::cli {

/// A file's name as a URI reference (RFC 3986): all but unreserved characters and "/" percent-encoded, "."
/// and
/// ".." taken out where they can be; an absolute path as file://.
[[nodiscard]] std::string uri_of(const std::string& file);

/// Lines and columns from 1, columns in UTF-16 code units, the end exclusive.
[[nodiscard]] Json sarif_region(const dsl::Sources& sources, const dsl::Place& place);

/// A location with its region, and `message` if there is any; nothing where the place is in no file.
[[nodiscard]] std::optional<Json> sarif_location(const dsl::Sources& sources, const dsl::Place& place,
                                                 const std::string& message = "");

[[nodiscard]] Json sarif_message(const std::string& text);

}  // namespace detent::cli
