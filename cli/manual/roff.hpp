// Writes roff with the man macros: what is text stays text, whatever it is made of.
#pragma once

#include <string>
#include <string_view>

#include "cli/manual/help_page.hpp"

namespace detent::cli::manual {

class Roff {
 public:
  void title(const std::string& name, const std::string& date, const std::string& version);
  void head(std::string_view words);
  void block(const Block& block);
  void paragraph(std::string_view text);
  /// Words, filled into lines.
  void filled(std::string_view text);
  /// Text as it is, without a macro before it: "detent \- does the interlock hold".
  void line(const std::string& roff);
  /// Sets off what follows from what stands before it; behind a head it is so already.
  void apart();

  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  std::string text_;
  bool after_head_ = false;
};

/// Nothing in it is a command to roff any more.
[[nodiscard]] std::string escaped(std::string_view text);
/// "detent check FILE": what is typed as it stands is bold, what stands for something is italic.
[[nodiscard]] std::string usage_line(std::string_view usage);

}  // namespace detent::cli::manual
