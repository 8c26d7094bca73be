// Expected pages as files in tests/cli/golden, picked up by name.
#pragma once

#include <string>

namespace detent::test {

/// Fails unless `text` is what golden/NAME.txt holds. With DETENT_UPDATE_GOLDEN=1 in the environment the file
/// is written instead: read the difference before you keep it.
void check_golden(const std::string& name, const std::string& text);

}  // namespace detent::test
