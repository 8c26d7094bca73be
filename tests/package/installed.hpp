// The libraries as somebody else has them: installed below a folder of their own.
#pragma once

#include <string>

namespace detent::test {

/// The folder into which the component `development` was installed, once for all tests here. Throws
/// std::runtime_error with what CMake says where it can't be.
[[nodiscard]] const std::string& installed();

/// The text of README.md between "```LANGUAGE" and "```", the first of its kind; "" if there is none.
[[nodiscard]] std::string readme_block(const std::string& language);

}  // namespace detent::test
