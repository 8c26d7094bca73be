// Plain token by token: nothing is understood here but brackets, bars and a short list of words.
#include "cli/proof_lines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

#include "solver/smtlib.hpp"

namespace detent::cli {
namespace {

using Tokens = std::vector<std::string>;

bool is_marker(std::string_view line) {
  return line == solver::invariant_begins || line == solver::invariant_ends || line == solver::step_begins ||
         line == solver::step_ends;
}

/// Brackets, symbols in bars, and words; empty where a bar is left open or something follows the end.
Tokens tokens_of(const std::string& line) {
  Tokens tokens;
  int depth = 0;
  for (std::size_t at = 0; at < line.size();) {
    if (line[at] == ' ') {
      ++at;
      continue;
    }
    std::size_t end = at + 1;
    if (line[at] == '|') {
      end = line.find('|', end);
      if (end == std::string::npos) return {};
      ++end;
    } else if (line[at] != '(' && line[at] != ')') {
      end = std::min(line.find_first_of(" ()|;\"", at), line.size());
      if (end == at) return {};
    }
    if (depth == 0 && !tokens.empty()) return {};
    depth += line[at] == '(' ? 1 : line[at] == ')' ? -1 : 0;
    if (depth < 0) return {};
    tokens.push_back(line.substr(at, end - at));
    at = end;
  }
  return depth == 0 ? tokens : Tokens{};
}

bool is_number(const std::string& token) {
  return !token.empty() && token.find_first_not_of("0123456789") == std::string::npos;
}

/// Only words of linear arithmetic and logic, numbers, and symbols that `symbol` allows.
template <class Symbol>
bool is_plain_term(Tokens::const_iterator first, Tokens::const_iterator last, const Symbol& symbol) {
  static const std::set<std::string> words{
      "(", ")", "and", "or", "not", "ite", "=", "<=", ">=", ">", "+", "-", "*", "true", "false"};
  return first != last && std::all_of(first, last, [&](const std::string& token) {
           return token.front() == '|' ? symbol(token) : words.count(token) != 0 || is_number(token);
         });
}

bool is_sort(const std::string& token) {
  return token == "Bool" || token == "Int";
}

bool ends_with_moment(const std::string& symbol) {
  return symbol.ends_with("@0|") || symbol.ends_with("@1|");
}

}  // namespace

std::optional<std::vector<Line>> commands_of(const std::string& text) {
  std::vector<Line> lines;
  std::size_t number = 0;
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    std::string line = text.substr(begin, end - begin);
    begin = end + 1;
    ++number;
    const bool is_plain = std::all_of(line.begin(), line.end(), [](char letter) {
      return static_cast<unsigned char>(letter) >= ' ' && letter != '\x7f';
    });
    if (!is_plain) return std::nullopt;
    if (!line.starts_with(";") || is_marker(line)) lines.push_back({number, std::move(line)});
  }
  return lines;
}

bool is_step_command(const std::string& line) {
  const Tokens tokens = tokens_of(line);
  if (tokens.size() < 4 || tokens[0] != "(") return false;
  const auto term = [&](std::size_t first) {
    return is_plain_term(tokens.begin() + static_cast<std::ptrdiff_t>(first), tokens.end() - 1,
                         ends_with_moment);
  };
  if (tokens[1] == "assert") return term(2);
  const bool named = tokens.size() >= 7 && ends_with_moment(tokens[2]) && tokens[3] == "(" &&
                     tokens[4] == ")" && is_sort(tokens[5]);
  if (tokens[1] == "declare-fun") return named && tokens.size() == 7;
  return tokens[1] == "define-fun" && named && term(6);
}

bool is_term_of(const std::string& line, const std::set<std::string>& symbols) {
  const Tokens tokens = tokens_of(line);
  return is_plain_term(tokens.begin(), tokens.end(),
                       [&](const std::string& symbol) { return symbols.count(symbol) != 0; });
}

std::optional<Remembered> remembered(const std::string& line) {
  const Tokens tokens = tokens_of(line);
  const bool declares = tokens.size() == 7 && tokens[1] == "declare-fun" && tokens[2].ends_with("@0|") &&
                        tokens[3] == "(" && tokens[4] == ")" && is_sort(tokens[5]);
  if (!declares) return std::nullopt;
  std::string name = tokens[2].substr(1, tokens[2].size() - 4);
  // With a blank in it, it can't be taken for a word of SMT-LIB.
  if (!name.starts_with("before: ") && !name.starts_with("ticks since ")) return std::nullopt;
  return Remembered{std::move(name), tokens[5]};
}

bool is_literal(const std::string& text, const std::string& sort) {
  if (sort == "Bool") return text == "true" || text == "false";
  const bool negative = text.starts_with("(- ") && text.ends_with(")");
  return is_number(negative ? text.substr(3, text.size() - 4) : text);
}

std::string moved_on(const std::string& line, std::size_t step) {
  std::string moved;
  for (std::size_t at = 0; at < line.size();) {
    const std::string_view three(line.data() + at, std::min<std::size_t>(3, line.size() - at));
    if (three == "@0|" || three == "@1|") {
      moved += fmt::format("@{}|", step + (three == "@1|" ? 1 : 0));
      at += three.size();
    } else {
      moved += line[at++];
    }
  }
  return moved;
}

}  // namespace detent::cli
