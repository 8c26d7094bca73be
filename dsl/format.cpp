// The layout of a text.
//
// Line ends are blanks to the language, so a text can be laid out in many ways, and people have reasons for
// theirs. So the layout decides what nobody has reasons for, and keeps what somebody had:
//
//   - Each declaration, each line of `stages` and each `end` begins a line. What a part holds stands 2
//   columns further
//     in, and so do the lines of `stages`.
//   - Names of declarations that follow each other without an empty line begin in one column, whatever their
//   words are.
//   - A declaration may go on below its name, wherever the author broke the line before a piece of it
//   (`when`, `set`,
//     `=`, `and`, …); `then` and `else` stand 2 further in. What is claimed stands 4 columns in on a line of
//     its own, what goes on there 8. Breaks at other places are taken out; one right behind an operator moves
//     before it.
//   - A line of more than 120 columns is broken where that is best (dsl/format_shorten.cpp). Lines are never
//   joined but
//     where a break had no place.
//   - One blank between words; none inside of brackets, before `,` and `:`, behind a sign or between a
//   function and its
//     bracket.
//   - `=` of lines of one kind that follow each other, without a sentence, stand in one column, and so do the
//   arrows
//     and the causes in the lines of `stages`.
//   - One empty line of several is left, and none at the ends of the text or of a part, nor inside a
//   declaration.
//   - A comment on a line of its own stays there, as far in as what follows. One at the end of a line stays
//   behind the
//     same word, 2 columns off, in one column with those of the lines next to it; one that stood right below
//     it, in its column, goes on with it. No comment is parted or joined.
//
// Idempotence: what the steps decide on is the same in a text that they have laid out. Where names begin and
// how lines are broken hangs on breaks and empty lines alone, and not on columns; only then columns are made,
// which nothing but the comments at line ends looks at.
#include "dsl/format.hpp"

#include <stdexcept>

#include "dsl/format/columns.hpp"
#include "dsl/format/lines.hpp"
#include "dsl/format/tokens.hpp"
#include "dsl/grammar.hpp"

namespace detent::dsl {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

/// CRLF where most lines end so.
std::string_view line_end_of(std::string_view text) {
  std::size_t all = 0;
  std::size_t two = 0;
  for (std::size_t at = text.find('\n'); at != text.npos; at = text.find('\n', at + 1)) {
    ++all;
    if (at > 0 && text[at - 1] == '\r') ++two;
  }
  return 2 * two > all ? "\r\n" : "\n";
}

std::string laid_out(std::string_view text, std::uint32_t file, const Tree& tree) {
  format::Tokens tokens = format::tokens_of(text, file, tree);
  std::vector<format::Line> lines = format::lines_of(tokens);
  format::align_names(tokens, lines);
  lines = format::shortened(tokens, lines);
  format::align_rows(tokens, lines);
  const std::string mark(text.starts_with(byte_order_mark) ? byte_order_mark : "");
  return mark + format::text_of(tokens, lines, line_end_of(text));
}

/// What must come through: the tree, every word and every comment.
struct Content {
  std::string tree;
  std::vector<std::string_view> words, comments;
  friend bool operator==(const Content&, const Content&) = default;
};

Content content_of(std::string_view text, std::uint32_t file, const Tree& tree) {
  Content content{to_text(tree), {}, {}};
  const format::Tokens tokens = format::tokens_of(text, file, tree);
  for (const format::Token& token : tokens.tokens) content.words.push_back(token.text);
  for (const format::Comment& comment : tokens.comments) content.comments.push_back(comment.text);
  return content;
}

void insist_on_same(std::string_view old_text, const Tree& old_tree, const std::string& new_text) {
  Sources sources;
  const std::uint32_t file = sources.add("", new_text);
  Diagnostics diagnostics;
  const Tree tree = parse(sources, file, diagnostics);
  if (has_errors(diagnostics) ||
      content_of(old_text, file, old_tree) != content_of(sources.text(file), file, tree)) {
    throw std::logic_error("a design that is laid out afresh does not read as before");
  }
}

}  // namespace

std::optional<std::string> format_text(const Sources& sources, std::uint32_t file, Diagnostics& diagnostics) {
  Diagnostics found;
  const Tree tree = parse(sources, file, found);
  diagnostics.insert(diagnostics.end(), found.begin(), found.end());
  if (has_errors(found)) return std::nullopt;
  const std::string_view text = sources.text(file);
  std::string formatted = laid_out(text, file, tree);
  if (formatted != text) insist_on_same(text, tree, formatted);
  return formatted;
}

}  // namespace detent::dsl
