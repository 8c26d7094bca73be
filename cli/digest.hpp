// By what a file is known again.
#pragma once

#include <string>
#include <string_view>

namespace detent::cli {

/// SHA-256 (FIPS 180-4) as 64 lower-case hexadecimal digits, as the program sha256sum prints it.
[[nodiscard]] std::string sha256(std::string_view text);

}  // namespace detent::cli
