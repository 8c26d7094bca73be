// What the tests of reading share: a text, and what was read from it.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "dsl/diagnostics.hpp"
#include "dsl/grammar.hpp"
#include "dsl/source.hpp"
#include "dsl/tree.hpp"

namespace detent::dsl {

struct ReadText {
  Sources sources;
  Tree tree;
  Diagnostics diagnostics;

  /// All messages as a person sees them.
  [[nodiscard]] std::string messages() const {
    std::string all;
    for (const Diagnostic& each : diagnostics) all += to_text(each, sources);
    return all;
  }
  /// The text at each diagnostic's place.
  [[nodiscard]] std::vector<std::string> marked() const {
    std::vector<std::string> all;
    for (const Diagnostic& each : diagnostics) all.emplace_back(sources.text(each.place));
    return all;
  }
};

inline ReadText read_text(std::string text) {
  ReadText result;
  result.sources.add("t", std::move(text));
  result.tree = parse(result.sources, 0, result.diagnostics);
  sort_by_place(result.diagnostics);
  return result;
}

/// `piece` as often as given.
inline std::string times(std::size_t count, std::string_view piece) {
  std::string all;
  all.reserve(count * piece.size());
  for (std::size_t i = 0; i < count; ++i) all += piece;
  return all;
}

/// The listing of a text that must hold no mistake; otherwise the messages.
inline std::string listing(const std::string& text) {
  const ReadText result = read_text(text);
  return result.diagnostics.empty() ? to_text(result.tree) : result.messages();
}

}  // namespace detent::dsl
