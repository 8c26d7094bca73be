// Writing HTML and SVG that is well-formed by construction, and in which no text of a design means anything.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace detent::cli::report {

/// The text cleaned of what no page may show (control characters, marks that reorder it, bytes that are no
/// UTF-8), and with &, <, >, " and ' escaped: it may stand anywhere in text and in quoted attributes.
[[nodiscard]] std::string escaped(std::string_view text);

/// JSON as it may stand inside a script element: no "<" is left that could end it.
[[nodiscard]] std::string for_script(std::string json);

/// A length in an SVG: at most one digit behind the point.
[[nodiscard]] std::string length(double number);

using Attributes = std::vector<std::pair<const char*, std::string>>;

class Html {
 public:
  void open(const char* tag, const Attributes& attributes = {});
  /// Closes what was opened last.
  void close();
  /// An HTML element that has no content, such as meta.
  void lone(const char* tag, const Attributes& attributes);
  /// An element that holds text only; in SVG also one that holds nothing.
  void element(const char* tag, const Attributes& attributes, std::string_view text = {});
  void text(std::string_view text);
  /// The same for a name, which may be broken behind each "_" and ".".
  void name(std::string_view text);
  /// What must not be escaped: our own style sheet and script.
  void raw(std::string_view text);
  /// All that was written; everything must be closed.
  [[nodiscard]] std::string take();

 private:
  void begin(const char* tag, const Attributes& attributes);
  std::string out_;
  std::vector<const char*> open_;
};

}  // namespace detent::cli::report
