// Files that are whole or not there: written under another name beside it, and renamed when all is on the
// disk.
#pragma once

#include <string>
#include <string_view>

namespace detent::cli {

/// Writes the text to `path`; what was there before is replaced at once, or left as it is. A link is
/// followed; what is no ordinary file (a terminal, a pipe) is written to as it is. "" or in words why it
/// could not be.
[[nodiscard]] std::string write_whole_file(const std::string& path, std::string_view text);

/// The same where nothing is of this name. 0, or the number of the error: then nothing of it is there, and
/// what was there (EEXIST), a link that leads nowhere included, is as it was.
[[nodiscard]] int write_new_file(const std::string& path, std::string_view text);

/// Whether write_whole_file() could be done, tried before work that may take long: leaves nothing behind. ""
/// or why not.
[[nodiscard]] std::string try_whole_file(const std::string& path);

}  // namespace detent::cli
