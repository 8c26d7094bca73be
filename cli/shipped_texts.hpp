// Files of specs/ as they are, put into the program when it is built (cli/CMakeLists.txt).
#pragma once

#include <span>
#include <string_view>

namespace detent::cli {

struct ShippedText {
  /// A function's name, a part file's or a lesson's: "emergency_stop", "iec_61131_3.detent", "3_window".
  std::string_view name;
  std::string_view text;
};

[[nodiscard]] std::span<const ShippedText> shipped_functions();
[[nodiscard]] std::span<const ShippedText> shipped_parts();
[[nodiscard]] std::span<const ShippedText> shipped_lessons();

}  // namespace detent::cli
