// The terminal: what was asked for goes before what the environment says, and that before what is measured.
#include "cli/terminal.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <cstdlib>

namespace detent::cli {
namespace {

std::optional<std::size_t> whole_number(const std::string& text) {
  std::size_t number = 0;
  const char* end = text.data() + text.size();
  const auto [rest, error] = std::from_chars(text.data(), end, number);
  if (error != std::errc{} || rest != end || number == 0) return std::nullopt;
  return number;
}

std::size_t choose_width(const TerminalWishes& wishes, const Surroundings& around) {
  const std::size_t usual = around.window_columns.value_or(80);
  const std::size_t width = wishes.width.value_or(whole_number(around.variable("COLUMNS")).value_or(usual));
  return std::clamp(width, narrowest_width, widest_width);
}

bool choose_color(ColorWish wish, const Surroundings& around) {
  if (wish != ColorWish::auto_) return wish == ColorWish::always;
  return around.is_terminal && around.variable("NO_COLOR").empty() && around.variable("TERM") != "dumb";
}

/// The first of the three variables that is set decides, as POSIX (XBD 8.2) has it.
bool speaks_unicode(const Surroundings& around) {
  for (const char* name : std::array{"LC_ALL", "LC_CTYPE", "LANG"}) {
    std::string locale = around.variable(name);
    if (locale.empty()) continue;
    std::transform(locale.begin(), locale.end(), locale.begin(),
                   [](unsigned char letter) { return static_cast<char>(std::tolower(letter)); });
    return locale.find("utf-8") != std::string::npos || locale.find("utf8") != std::string::npos;
  }
  return false;
}

}  // namespace

Terminal choose_terminal(const TerminalWishes& wishes, const Surroundings& around) {
  return {.width = choose_width(wishes, around),
          .color = choose_color(wishes.color, around),
          .unicode = speaks_unicode(around)};
}

Surroundings look_around(int stream) {
  Surroundings around;
  around.is_terminal = isatty(stream) == 1;
  winsize size{};
  if (around.is_terminal && ioctl(stream, TIOCGWINSZ, &size) == 0 && size.ws_col > 0) {
    around.window_columns = size.ws_col;
  }
  around.variable = [](const char* name) {
    const char* value = std::getenv(name);
    return std::string(value == nullptr ? "" : value);
  };
  return around;
}

}  // namespace detent::cli
