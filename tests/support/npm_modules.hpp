// What npm brings for tests that look at the program with other programs.
#pragma once

#include <string>

namespace detent::test {

/// Where .ci/install puts modules: ~/.cache/detent/FOLDER/node_modules. The environment variable `told`, if
/// it is set, names another folder.
[[nodiscard]] std::string npm_modules(const std::string& folder, const char* told);

}  // namespace detent::test
