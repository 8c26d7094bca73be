// The safety functions that come with the program, as texts inside it: nothing has to be found on the disk.
// They are those of specs/functions, and those other designs of specs/ that cli/CMakeLists.txt names.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace detent::cli {

struct StartingDesign {
  std::string_view name;   ///< what `--from` takes: "emergency_stop"
  std::string_view title;  ///< the design's own title, on one line
};

/// By name.
[[nodiscard]] std::vector<StartingDesign> starting_designs();

/// The text to begin with, or nothing if there is no design of this name. It stands alone (parts that the
/// design includes are copied in), and says where it comes from; what only the tests of the program read is
/// left out.
[[nodiscard]] std::optional<std::string> starting_text(std::string_view name);

}  // namespace detent::cli
