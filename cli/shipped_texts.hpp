// Files of specs/ as they are, put into the program when it is built (cli/CMakeLists.txt).
#pragma once

#include <span>
#include <string_view>

namespace detent::cli {

struct ShippedText {
  std::string_view name;  ///< a function's name, or a part file's: "emergency_stop", "iec_61131_3.detent"
  std::string_view text;
};

[[nodiscard]] std::span<const ShippedText> shipped_functions();
[[nodiscard]] std::span<const ShippedText> shipped_parts();

}  // namespace detent::cli
