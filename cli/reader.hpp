// Files as the front end wants them: the text, or in plain words why there is none.
#pragma once

#include <cstddef>
#include <string>

#include "dsl/load.hpp"

namespace detent::cli {

/// What a design read from standard input is called in messages.
inline constexpr const char* standard_input_name = "(standard input)";

/// A reader for the whole design. Where `main_file` is "-", the text called standard_input_name is what
/// standard input holds.
[[nodiscard]] dsl::FileReader file_reader(const std::string& main_file);

/// A plain file of at most so many bytes; never a wait.
[[nodiscard]] dsl::FileText read_plain_file(const std::string& path, std::size_t most_bytes);

/// What the front end is to call the file that the user named.
[[nodiscard]] std::string source_name(const std::string& main_file);

}  // namespace detent::cli
