// A file that was not there before.
#pragma once

#include <string>
#include <string_view>

namespace detent::cli {

/// 0, or the error number; then nothing of it is there. A file that is there already is never touched
/// (EEXIST).
[[nodiscard]] int write_new_file(const std::string& file, std::string_view text);

}  // namespace detent::cli
