// Help is written for a page of 80 columns, always in the same few forms, which are read back here:
//
//   detent check FILE: what it does          usage and summary, the first line
//     --claim NAME          what it means    a term, its meaning behind two blanks or in column 24
//                           and more of it
//       json                what it means    further in: what may stand in the place of the term before it
//     - a point                              of a list
//   Verdicts:                                a head, alone on its line
//   Exit status: 0 …                         the one head with text behind it
//   Example:                                 a head; its lines stay as they are. More words may stand before
//   the colon
//
// Everything else is a paragraph; an empty line ends what stands before it.
#include "cli/manual/help_page.hpp"

#include <algorithm>
#include <cctype>
#include <sstream>
#include <string_view>

namespace detent::cli::manual {
namespace {

constexpr std::size_t meaning_column = 24;
constexpr std::string_view exit_status = "Exit status: ";

using Chunk = std::vector<std::string>;

std::vector<Chunk> chunks_of(const std::string& text) {
  std::vector<Chunk> chunks(1);
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    if (!line.empty()) {
      chunks.back().push_back(line);
    } else if (!chunks.back().empty()) {
      chunks.emplace_back();
    }
  }
  if (chunks.back().empty()) chunks.pop_back();
  return chunks;
}

std::size_t indent_of(const std::string& line) {
  return std::min(line.find_first_not_of(' '), line.size());
}

void append(std::string& text, std::string_view more) {
  if (more.empty()) return;
  if (!text.empty()) text += ' ';
  text += more;
}

std::string_view trimmed(const std::string& line) {
  return std::string_view(line).substr(indent_of(line));
}

/// "Verdicts:": one word that begins with a capital, and a colon.
bool is_head(const std::string& line) {
  return line.size() > 1 && line.back() == ':' &&
         std::isupper(static_cast<unsigned char>(line.front())) != 0 && line.find(' ') == std::string::npos;
}

/// `more`: whether the next line goes on with the meaning. Where a single blank stands before column 24, that
/// may be a gap between term and meaning or within a long term; an option's name is never that long without a
/// meaning behind it.
Term term_of(const std::string& line, bool more) {
  const std::size_t start = indent_of(line);
  std::size_t end = line.find("  ", start);
  const bool in_column = line.size() > meaning_column && line[meaning_column - 1] == ' ';
  if (end == std::string::npos && in_column && (line[start] == '-' || !more)) end = meaning_column - 1;
  if (end == std::string::npos) return {.name = line.substr(start), .about = ""};
  return {.name = line.substr(start, end - start), .about = line.substr(line.find_first_not_of(' ', end))};
}

Terms terms_of(const Chunk& chunk) {
  const std::size_t indent = indent_of(chunk.front());
  Terms terms;
  for (std::size_t i = 0; i < chunk.size(); ++i) {
    if (indent_of(chunk[i]) == indent) {
      terms.all.push_back(term_of(chunk[i], i + 1 < chunk.size() && indent_of(chunk[i + 1]) > indent));
    } else {
      append(terms.all.back().about, trimmed(chunk[i]));
    }
  }
  return terms;
}

/// Sentences that are moved in as terms are.
bool is_moved_in(const Chunk& chunk) {
  return std::all_of(chunk.begin(), chunk.end(), [](const std::string& line) {
    return indent_of(line) == 2 && line.find("  ", 2) == std::string::npos;
  });
}

Points points_of(const Chunk& chunk) {
  Points points;
  for (const std::string& line : chunk) {
    if (line.starts_with("  - ")) {
      points.all.push_back(line.substr(4));
    } else {
      append(points.all.back(), trimmed(line));
    }
  }
  return points;
}

Lines lines_of(const Chunk& chunk) {
  Lines lines;
  for (const std::string& line : chunk)
    lines.all.push_back(line.substr(std::min<std::size_t>(2, indent_of(line))));
  return lines;
}

Paragraph paragraph_of(const Chunk& chunk) {
  Paragraph paragraph;
  for (const std::string& line : chunk) append(paragraph.text, trimmed(line));
  return paragraph;
}

Block block_of(const Chunk& chunk, const std::string& head) {
  if (head.starts_with("Example")) return lines_of(chunk);
  if (chunk.front().starts_with("  - ")) return points_of(chunk);
  if (indent_of(chunk.front()) == 2 && !is_moved_in(chunk)) return terms_of(chunk);
  return paragraph_of(chunk);
}

/// Whether these are kinds of the term before them, which have then been put there.
bool taken_as_kinds(const Chunk& chunk, std::vector<Block>& blocks) {
  auto* terms = blocks.empty() ? nullptr : std::get_if<Terms>(&blocks.back());
  if (indent_of(chunk.front()) != 4 || terms == nullptr || terms->all.empty()) return false;
  terms->all.back().kinds = terms_of(chunk).all;
  return true;
}

void read_chunk(Chunk chunk, std::vector<Section>& sections) {
  if (chunk.front().starts_with("Example, ")) {
    sections.push_back({"Example", {Paragraph{chunk.front()}}});
    chunk.erase(chunk.begin());
  } else if (is_head(chunk.front())) {
    sections.push_back({chunk.front().substr(0, chunk.front().size() - 1), {}});
    chunk.erase(chunk.begin());
  } else if (chunk.front().starts_with(exit_status)) {
    sections.push_back({"Exit status", {}});
    chunk.front().erase(0, exit_status.size());
  }
  if (chunk.empty() || taken_as_kinds(chunk, sections.back().blocks)) return;
  sections.back().blocks.push_back(block_of(chunk, sections.back().head));
}

}  // namespace

std::vector<Section> read_sections(const std::string& text) {
  std::vector<Section> sections(1);
  for (const Chunk& chunk : chunks_of(text)) read_chunk(chunk, sections);
  return sections;
}

HelpPage read_help(const std::string& text) {
  const std::string first = text.substr(0, text.find('\n'));
  const std::size_t colon = std::min(first.find(": "), first.size());
  HelpPage page{.usage = first.substr(0, colon), .summary = "", .sections = {}};
  if (colon < first.size()) page.summary = first.substr(colon + 2);
  page.sections = read_sections(text.substr(std::min(first.size() + 1, text.size())));
  return page;
}

std::vector<Term> all_terms(const HelpPage& page) {
  std::vector<Term> all;
  for (const Section& section : page.sections) {
    for (const Block& block : section.blocks) {
      if (const auto* terms = std::get_if<Terms>(&block))
        all.insert(all.end(), terms->all.begin(), terms->all.end());
    }
  }
  return all;
}

}  // namespace detent::cli::manual
