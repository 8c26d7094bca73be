// How wide, how colourful and in which characters the text is to be: decided once, from what the user asked
// for and what surrounds the program.
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <string>

namespace detent::cli {

enum class ColorWish { auto_, always, never };

struct Terminal {
  std::size_t width = 80;
  bool color = false;
  bool unicode = true;
};

struct TerminalWishes {
  std::optional<std::size_t> width = {};
  ColorWish color = ColorWish::auto_;
};

/// What the program can see of the place where its output goes.
struct Surroundings {
  bool is_terminal = false;
  std::optional<std::size_t> window_columns = {};
  std::function<std::string(const char*)> variable;  ///< an environment variable, "" if it is not set
};

inline constexpr std::size_t narrowest_width = 40;
inline constexpr std::size_t widest_width = 1000;

/// Width: what was asked for, else COLUMNS, else the window, else 80. Colour: as asked for; `auto_` means on
/// a terminal that is not "dumb" and where NO_COLOR is not set. Characters: Unicode if the locale says UTF-8.
[[nodiscard]] Terminal choose_terminal(const TerminalWishes& wishes, const Surroundings& around);

/// The surroundings of one of this process's own streams (1 standard output, 2 standard error).
[[nodiscard]] Surroundings look_around(int stream);

}  // namespace detent::cli
