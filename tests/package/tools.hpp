// Programs that read what is made here.
#pragma once

#include <string>

namespace detent::test {

/// Whether it is there. If not, the test says so and is left out; on a build server (environment variable CI)
/// it fails.
[[nodiscard]] bool has_tool(const std::string& program);

/// Its path; "/nowhere/NAME" if it is not installed.
[[nodiscard]] std::string tool(const std::string& program);

/// The folder of manual pages and completions in this build.
[[nodiscard]] std::string manual_folder();

/// Throws std::runtime_error where it can't be read.
[[nodiscard]] std::string text_of(const std::string& file);

}  // namespace detent::test
