// What npm brings for the tests: where it is, and what of it is missing.
#pragma once

#include <string>
#include <vector>

namespace detent::test {

/// Where .ci/install puts the modules of one kind ("browser"); the environment variable
/// DETENT_BROWSER_MODULES names another folder.
[[nodiscard]] std::string modules_folder(const std::string& kind);

/// The programs that are not installed and the modules that the folder has not, each with "; " behind it, or
/// "".
[[nodiscard]] std::string missing_of(const std::vector<std::string>& programs, const std::string& folder,
                                     const std::vector<std::string>& modules);

}  // namespace detent::test
