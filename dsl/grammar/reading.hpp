// The reader's hand on the text: takes one token at a time, remembers the last one, and words the messages.
// The rules of expressions.hpp and declarations.hpp call nothing else.
//
// Every take_… function looks at `at`, which never points at white space. If the token is there, `at` moves
// past it and the white space behind it, and true is returned; otherwise nothing changes. White space is
// thus read once, however many alternatives are tried.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "dsl/diagnostics.hpp"
#include "dsl/tree.hpp"

namespace detent::dsl::grammar {

using Cursor = const char*;

/// Thrown by a rule that cannot go on, caught by the loop in grammar.cpp; it never leaves parse().
struct Mistake {
  Diagnostic diagnostic;
};

/// Thrown where nothing more is worth reading; what was read and reported so far stands.
struct Enough {};

/// A comparison as it is written, and how the language writes it.
struct Comparator {
  std::string_view spelling;
  Op op = Op::equal;
  std::string_view meant;
};

class Reading {
 public:
  /// `reported`: what is known of this file already; it counts towards the limit.
  Reading(std::string_view text, std::uint32_t file, Diagnostics reported)
      : text_(text), file_(file), reported_(std::move(reported)) {}

  [[nodiscard]] Cursor begin() const { return text_.data(); }
  [[nodiscard]] Cursor end() const { return text_.data() + text_.size(); }
  [[nodiscard]] Cursor after_white(Cursor at) const;

  // ---- tokens (reading.cpp, numbers.cpp, operators.cpp) ----
  bool take_word(Cursor& at, std::string_view word);
  bool take_mark(Cursor& at, std::string_view mark);
  bool take_name(Cursor& at, Name& name);
  bool take_dotted_name(Cursor& at, Name& name);
  bool take_position(Cursor& at, Name& name);       ///< a name, or one of position_words
  bool take_lone_position(Cursor& at, Name& name);  ///< one of position_words
  bool take_any_word(Cursor& at, Name& name);       ///< also any reserved word
  bool take_edge_rule(Cursor& at, Name& name);      ///< counted, ignored or either
  bool take_text(Cursor& at, std::string& text);
  bool take_quantity(Cursor& at, Expr& quantity);
  std::optional<Op> take_comparator(Cursor& at);
  /// The word of an operator, or, with a message, how other notations write it ("&&" for `and`).
  bool take_operator(Cursor& at, std::string_view word);
  /// The `=` between a name and its value; `==` with a message.
  bool take_gets(Cursor& at);

  // ---- looking ahead (lookahead.cpp) ----
  [[nodiscard]] std::string_view word_at(Cursor at) const;   ///< "" if no word begins here
  [[nodiscard]] std::string_view token_at(Cursor at) const;  ///< "" at the end of the text
  [[nodiscard]] static std::optional<Comparator> comparator_at(std::string_view text);
  [[nodiscard]] Cursor line_begin(Cursor at) const;
  [[nodiscard]] bool first_on_line(Cursor at) const;
  [[nodiscard]] bool move_begins(Cursor at) const;
  /// The next place at or behind `at` where a line begins with the word of a declaration (or `end`).
  [[nodiscard]] Cursor next_declaration(Cursor at) const;

  // ---- places ----
  [[nodiscard]] Place place(Cursor begin, Cursor end) const;
  [[nodiscard]] Place place_from(Cursor begin) const { return place(begin, last_end_); }
  [[nodiscard]] std::string_view text_of(const Place& place) const;
  [[nodiscard]] Place last_token() const { return place(last_begin_, last_end_); }

  // ---- nesting ----
  void enter(Cursor at);  ///< throws where the text is nested too deeply
  void leave(int levels = 1) { depth_ -= levels; }
  void start_afresh() { depth_ = 0; }

  // ---- messages (messages.cpp) ----
  /// "expected WHAT after 'the last token', not 'what stands here'", with a mend where one is known.
  [[nodiscard]] Mistake expected(Cursor at, std::string_view what) const;
  [[nodiscard]] Mistake expected_name(Cursor at, std::string_view what) const;
  [[nodiscard]] Mistake unclosed_text(Cursor at) const;
  /// What stands here is not a declaration.
  [[nodiscard]] Mistake no_declaration(Cursor at) const;
  void refuse_call(Cursor at) const;                         ///< throws if a bracket follows a name
  void refuse_chain(Cursor at, const Expr& compared) const;  ///< throws if a second comparison follows
  /// A unit of time where a duration stands lacks its number, unless something has that name. (A number that
  /// lacks its unit is the checker's to report, as all that has to do with units.)
  void suspect_unit(const Expr& duration);
  [[nodiscard]] const std::vector<Name>& lone_units() const { return lone_units_; }

  /// Throws Enough when the file has as many mistakes as are worth showing at once.
  void report(Diagnostic diagnostic);
  [[nodiscard]] Diagnostics& reported() { return reported_; }

 private:
  bool took(Cursor& at, Cursor end);
  bool took_name(Cursor& at, std::size_t size, Name& name);
  bool takes_unit(Cursor at, std::string_view word) const;
  void take_unit(Cursor& at, Expr& quantity);
  void report_number(const Expr& quantity);
  [[nodiscard]] bool same_line_as_last(Cursor at) const;
  [[nodiscard]] Place place_of_surprise(Cursor at) const;
  [[nodiscard]] std::string_view rest(Cursor at) const { return {at, static_cast<std::size_t>(end() - at)}; }
  [[nodiscard]] std::string surprise(Cursor at, std::string_view what) const;
  [[nodiscard]] std::string mend_for(Cursor at, std::string_view what) const;

  std::string_view text_;
  std::uint32_t file_;
  Cursor last_begin_ = text_.data();
  Cursor last_end_ = text_.data();
  int depth_ = 0;
  Diagnostics reported_;
  std::vector<Name> lone_units_;
};

/// "'thrust'": the user's own text in a message, cut if it is long.
[[nodiscard]] std::string quoted(std::string_view text);

}  // namespace detent::dsl::grammar
