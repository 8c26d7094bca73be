// A file that is whole or not there.
#pragma once

#include <string>

namespace detent::cli {

enum class Written { yes, is_there, no };

/// Writes the text under another name first and then renames it. A file that is there is left alone, unless
/// `over`.
[[nodiscard]] Written write_file(const std::string& path, const std::string& text, bool over);

}  // namespace detent::cli
