// Reads the piece's text as written. What does not fit one of the few forms to its last letter is no simple
// fact, and nothing is guessed: the text itself is shown then.
#include "cli/fact.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <string_view>

#include "cli/relevance.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Piece;
using dsl::Signal;
using dsl::SortKind;

/// What the names of one piece may stand for.
struct Names {
  const Model& model;
  const solver::Trace& trace;
  const Piece& piece;
};

// ---- Text ----

std::string_view trimmed(std::string_view text) {
  while (text.starts_with(' ')) text.remove_prefix(1);
  while (text.ends_with(' ')) text.remove_suffix(1);
  return text;
}

bool is_word(std::string_view text) {
  return !text.empty() && std::isdigit(static_cast<unsigned char>(text.front())) == 0 &&
         std::all_of(text.begin(), text.end(), [](unsigned char letter) {
           return std::isalnum(letter) != 0 || letter == '_' || letter == '.';
         });
}

/// What stands between `opening` at the start and a bracket at the end that closes it.
std::optional<std::string_view> inside(std::string_view text, std::string_view opening) {
  if (!text.starts_with(opening) || !text.ends_with(')')) return {};
  text.remove_prefix(opening.size());
  text.remove_suffix(1);
  int depth = 0;
  for (const char letter : text) {
    depth += letter == '(' ? 1 : letter == ')' ? -1 : 0;
    if (depth < 0) return {};
  }
  return trimmed(text);
}

// ---- Names ----

std::optional<std::uint32_t> signal_named(const Names& names, std::string_view text) {
  const std::optional<std::string_view> hand = inside(text, "hand(");
  const std::string name{hand ? *hand : text};
  for (const std::uint32_t index : names.piece.mentions) {
    const Signal& signal = names.model.signals[index];
    if (signal.name == name || (!hand && signal.name == name + " received"))
      return told_signal(names.model, names.trace, index);
  }
  return {};
}

bool is_condition(const Names& names, std::uint32_t signal) {
  return names.model.signals[signal].sort.kind == SortKind::condition;
}

// ---- States and edges ----

/// That the signal has, or has not, one of its values.
std::optional<Fact> having(const Names& names, std::uint32_t index, Value value, bool has) {
  const Signal& signal = names.model.signals[index];
  if (!has && signal.sort.positions.size() == 2) return having(names, index, 1 - value, true);
  const std::string being = being_words(signal, value);
  if (has) return Fact{.signal = index, .target = value, .being = being};
  return Fact{.signal = index, .target = -1, .being = "not " + being, .opposite = being};
}

std::optional<Fact> read_condition(const Names& names, std::string_view text) {
  const bool negated = text.starts_with("not ");
  if (negated) text = trimmed(text.substr(4));
  const std::optional<std::uint32_t> signal = signal_named(names, text);
  if (!signal || !is_condition(names, *signal)) return {};
  return having(names, *signal, negated ? 0 : 1, true);
}

std::optional<Fact> read_position(const Names& names, std::string_view text) {
  const std::size_t is = text.find(" is ");
  if (is == std::string_view::npos) return {};
  const std::optional<std::uint32_t> signal = signal_named(names, trimmed(text.substr(0, is)));
  if (!signal) return {};
  std::string_view word = trimmed(text.substr(is + 4));
  const bool negated = word.starts_with("not ");
  if (negated) word = trimmed(word.substr(4));
  const std::vector<std::string>& positions = names.model.signals[*signal].sort.positions;
  const auto found = std::find(positions.begin(), positions.end(), word);
  if (found == positions.end()) return {};
  return having(names, *signal, found - positions.begin(), !negated);
}

std::optional<Fact> read_state(const Names& names, std::string_view text) {
  if (auto condition = read_condition(names, text)) return condition;
  return read_position(names, text);
}

std::optional<Fact> read_edge(const Names& names, std::string_view text) {
  const bool falls = text.starts_with("falls(");
  const auto of = inside(text, falls ? "falls(" : "rises(");
  std::optional<Fact> fact = of ? read_state(names, *of) : std::nullopt;
  if (!fact || fact->target < 0) return {};
  if (falls) {
    if (names.model.signals[fact->signal].sort.positions.size() != 2) return {};
    fact = having(names, fact->signal, 1 - fact->target, true);
  }
  fact->edge = true;
  return fact;
}

// ---- Comparisons ----

struct Relation {
  std::string_view symbol, words, opposite;
};
constexpr std::array<Relation, 6> relations{{{" == ", "", "other than "},
                                             {" != ", "other than ", ""},
                                             {" <= ", "at most ", "more than "},
                                             {" >= ", "at least ", "less than "},
                                             {" < ", "less than ", "at least "},
                                             {" > ", "more than ", "at most "}}};

/// A number, with or without a unit.
bool is_number(std::string_view text) {
  if (text.starts_with('-')) text.remove_prefix(1);
  const auto letter = [](unsigned char c) { return std::isalpha(c) != 0 || c == '%' || c == ' '; };
  const auto digit = [](unsigned char c) { return std::isdigit(c) != 0 || c == '.'; };
  const auto unit = std::find_if_not(text.begin(), text.end(), digit);
  const auto blanks = std::count(unit, text.end(), ' ');
  return unit != text.begin() && blanks <= 1 && std::all_of(unit, text.end(), letter);
}

std::optional<Fact> read_comparison(const Names& names, std::string_view text) {
  for (const auto& [symbol, words, opposite] : relations) {
    const std::size_t at = text.find(symbol);
    if (at == std::string_view::npos) continue;
    const std::optional<std::uint32_t> signal = signal_named(names, trimmed(text.substr(0, at)));
    if (!signal || names.model.signals[*signal].sort.kind != SortKind::level) return {};
    const std::string_view right = trimmed(text.substr(at + symbol.size()));
    Fact fact{.signal = *signal,
              .being = fmt::format("{}{}", words, right),
              .opposite = fmt::format("{}{}", opposite, right)};
    if (is_word(right)) fact.other = signal_named(names, right);
    if (!fact.other && !is_number(right)) return {};
    return fact;
  }
  return {};
}

}  // namespace

std::optional<Fact> read_fact(const Model& model, const solver::Trace& trace, const Piece& piece) {
  const Names names{model, trace, piece};
  std::string_view text = trimmed(piece.text);
  while (const auto within = inside(text, "(")) text = *within;
  if (auto edge = read_edge(names, text)) return edge;
  if (auto state = read_state(names, text)) return state;
  return read_comparison(names, text);
}

}  // namespace detent::cli
