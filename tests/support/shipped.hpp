// The designs that come with the program, as tests look at them.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "dsl/front.hpp"

namespace detent::test {

/// The paths of all *.detent files below a folder of specs/ ("" for all), sorted.
[[nodiscard]] std::vector<std::string> shipped_files(const std::string& folder = "");

/// Throws std::runtime_error where there is none. `name` is a path below specs/: "functions/muting.detent".
[[nodiscard]] std::string shipped_text(const std::string& name);

using TextChange = std::function<std::string(std::string)>;

/// A shipped file (path as in shipped_files), with its own text changed first; what it includes stays.
[[nodiscard]] dsl::Compiled compile_changed(const std::string& path, const TextChange& change);

/// The model of the same; throws std::runtime_error with the messages where there is any error.
[[nodiscard]] dsl::Model shipped_model(const std::string& name, const TextChange& change = {});

/// A design of specs/mistakes mended as its opening comment says: each comment line
///   // in the place of the line that begins: BEGINNING
/// puts the line before it in the place of the one line that begins so (blanks in a row count as one).
/// Throws std::runtime_error where there is no such comment, or not one such line.
[[nodiscard]] std::string mended(const std::string& text);

}  // namespace detent::test
