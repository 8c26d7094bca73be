// A strict look at a page of HTML: stricter than any browser, which mends whatever it is given.
#pragma once

#include <map>
#include <string>
#include <vector>

namespace detent::test {

struct Tag {
  std::string name;
  std::map<std::string, std::string> attributes;  ///< as written: escapes are left
};

struct Markup {
  std::vector<Tag> tags;              ///< every start tag, in order
  std::string text;                   ///< all text between tags, escapes undone; without style and script
  std::vector<std::string> mistakes;  ///< what is not well-formed, in words
};

/// Tags must be closed in order, attributes quoted and not repeated, and no "<" or lone "&" stand in text.
/// Which elements have no content, and that style and script hold text up to their end tag: HTML Living
/// Standard, "Void elements" and "Raw text elements" (from memory).
[[nodiscard]] Markup read_markup(const std::string& html);

}  // namespace detent::test
