#include "dsl/format/words.hpp"

#include <algorithm>
#include <array>
#include <string_view>

#include "dsl/grammar/words.hpp"

namespace detent::dsl::format {
namespace {

/// Words that begin a piece of a declaration or of a claim.
constexpr auto clause_words = std::to_array<std::string_view>(
    {"from", "step",  "moving",   "carries", "lost", "on",   "for",  "restarting", "cancelled",
     "set",  "reset", "starting", "up",      "down", "when", "else", "while",      "within",
     "only", "lasts", "after",    "implies", "or",   "xor",  "and",  "then"});

constexpr auto operator_marks =
    std::to_array<std::string_view>({"==", "!=", "<", "<=", ">", ">=", "+", "-", "*", "|"});

const Token& before(const Tokens& tokens, std::size_t at) {
  return tokens[at - 1];
}

bool is_value_end(const Token& token) {
  if (token.kind == Kind::number || token.kind == Kind::unit || token.text == ")" || token.text == "true" ||
      token.text == "false")
    return true;
  return token.kind == Kind::word && !grammar::is_reserved(token.text);
}

/// A sign, and no subtraction: nothing that could be subtracted from stands before it.
bool is_sign(const Tokens& tokens, std::size_t at) {
  if (tokens[at].text != "-") return false;
  return tokens[at].begins_lost_value || !is_value_end(before(tokens, at));
}

/// Where a position or a stage is named, `on`, `up`, `down`, `set` and `reset` are its names.
bool is_position(const Tokens& tokens, std::size_t at) {
  const std::string_view last = before(tokens, at).text;
  if (tokens[at].role == Role::move || tokens[at].begins_lost_value) return true;
  if (last == "is" || last == "|" || last == "->" || last == "starting") return true;
  return last == "not" && at >= 2 && tokens[at - 2].text == "is";
}

bool is_clause(const Tokens& tokens, std::size_t at) {
  const Token& token = tokens[at];
  if (token.kind != Kind::word || !grammar::contains(clause_words, token.text)) return false;
  return before(tokens, at).text != "only" && !is_position(tokens, at);  // "only after" is one piece
}

bool is_operator(const Tokens& tokens, std::size_t at) {
  const Token& token = tokens[at];
  return token.kind == Kind::mark && grammar::contains(operator_marks, token.text) && !is_sign(tokens, at);
}

enum Base : int {
  of_claim,
  behind_colon,
  of_clause,
  of_choice,
  of_implies,
  of_or,
  of_xor,
  of_and,
  of_comma,
  of_operator
};
constexpr int bases = 10;

int base_of_word(std::string_view word) {
  if (word == "then" || word == "else") return of_choice;
  if (word == "implies") return of_implies;
  if (word == "or") return of_or;
  if (word == "xor") return of_xor;
  return word == "and" ? of_and : of_clause;
}

}  // namespace

std::size_t gap_before(const Tokens& tokens, std::size_t at) {
  const Token& token = tokens[at];
  const Token& last = before(tokens, at);
  if (token.text == ")" || token.text == "," || token.text == ":" || last.text == "(") return 0;
  if (last.text == "-" && is_sign(tokens, at - 1)) return 0;
  if (token.text != "(" || last.kind != Kind::word || token.begins_lost_value) return 1;
  const bool calls = !grammar::is_reserved(last.text) || grammar::contains(grammar::call_words, last.text);
  return calls ? 0 : 1;
}

bool begins_piece(const Tokens& tokens, std::size_t at) {
  if (tokens[at].role != Role::inner) return false;
  return is_clause(tokens, at) || is_operator(tokens, at) || tokens[at].text == "=";
}

bool may_begin_line(const Tokens& tokens, std::size_t at) {
  const std::string_view last = before(tokens, at).text;
  if (last == ":") return tokens[at - 2].text != "lost";
  return last == "," || begins_piece(tokens, at);
}

int rank_of_break(const Tokens& tokens, std::size_t at) {
  const Token& token = tokens[at];
  if (token.role != Role::inner || !may_begin_line(tokens, at)) return no_rank;
  const Token& last = before(tokens, at);
  const int depth = static_cast<int>(std::min<std::uint32_t>(token.brackets, 1000)) * bases;
  if (token.begins_claim) return of_claim;
  if (last.text == ":") return depth + behind_colon;
  if (token.text == "=") return last.kind == Kind::text ? depth + of_clause : no_rank;
  if (is_clause(tokens, at)) return depth + base_of_word(token.text);
  return depth + (last.text == "," ? of_comma : of_operator);
}

}  // namespace detent::dsl::format
