// A help text, taken apart into what it is made of, so that the manual pages and the shells' completions say
// what the help says and nothing else.
#pragma once

#include <string>
#include <variant>
#include <vector>

namespace detent::cli::manual {

/// "--claim NAME", and what it means.
struct Term {
  std::string name;
  std::string about;
  std::vector<Term> kinds = {};  ///< what may stand in its place, where each has a meaning of its own
};

struct Terms {
  std::vector<Term> all;
};
struct Paragraph {
  std::string text;
};
/// A list, a point each.
struct Points {
  std::vector<std::string> all;
};
/// Lines that are to stay as they are.
struct Lines {
  std::vector<std::string> all;
};

using Block = std::variant<Terms, Paragraph, Points, Lines>;

struct Section {
  std::string head;  ///< "Exit status"; "" for what stands before the first head
  std::vector<Block> blocks;
};

struct HelpPage {
  std::string usage;    ///< "detent check FILE"
  std::string summary;  ///< "check every claim of a design, in every run of any length"
  std::vector<Section> sections;
};

/// Its first line is "USAGE: SUMMARY".
[[nodiscard]] HelpPage read_help(const std::string& text);

/// The sections of a text that has no such line.
[[nodiscard]] std::vector<Section> read_sections(const std::string& text);

/// Every term of the page, in its order.
[[nodiscard]] std::vector<Term> all_terms(const HelpPage& page);

}  // namespace detent::cli::manual
