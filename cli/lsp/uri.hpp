// What editors call a file (RFC 3986, RFC 8089), and its path.
#pragma once

#include <string>

namespace detent::cli::lsp {

/// The path of a `file:` URI, percent signs decoded, "." and ".." taken out. Every other URI, of a text that
/// is in no file, is its own path.
[[nodiscard]] std::string path_of(const std::string& uri);

/// The `file:` URI of a path; a relative one counts from the folder that the program runs in.
[[nodiscard]] std::string uri_of(const std::string& path);

}  // namespace detent::cli::lsp
