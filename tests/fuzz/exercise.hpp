// What a text of any kind goes through, in the fuzzer and in the ordinary tests: nothing may crash, and what
// is said of every tree and every message must hold. Adding a stage of the front end is one line in
// exercise().
#pragma once

#include <cstdlib>
#include <string>
#include <string_view>

#include "dsl/front.hpp"
#include "dsl/grammar.hpp"

namespace detent::fuzz {

/// The first promise that does not hold, or "".
struct Finding {
  std::string broken_promise;
};

inline bool is_blank(char byte) {
  return byte == ' ' || byte == '\t' || byte == '\n' || byte == '\r';
}

/// An expression has text, not blank at either end, within the text of the expression that holds it.
inline bool places_hold(const dsl::Expr& expr, const dsl::Place& around, const dsl::Sources& sources) {
  const std::string_view text = sources.text(expr.place);
  const bool within = expr.place.begin >= around.begin && expr.place.end <= around.end;
  if (!within || text.empty() || is_blank(text.front()) || is_blank(text.back())) return false;
  for (const dsl::Expr& operand : expr.operands) {
    if (!places_hold(operand, expr.place, sources)) return false;
  }
  return true;
}

inline Finding check_reading(const std::string& text) {
  dsl::Sources sources;
  sources.add("fuzz", text);
  dsl::Diagnostics diagnostics;
  const dsl::Tree tree = dsl::parse(sources, 0, diagnostics);
  if (diagnostics.size() > 50) return {"more than 50 messages"};
  for (const dsl::Diagnostic& each : diagnostics) {
    if (each.place.begin > each.place.end || each.place.end > text.size())
      return {"a place outside the text"};
    if (to_text(each, sources).size() > 5000) return {"a message that nobody can read"};
  }
  for (const dsl::Declaration& each : tree.declarations) {
    if (each.place.begin >= each.place.end || each.place.end > text.size())
      return {"a declaration without text"};
    const auto* signal = std::get_if<dsl::SignalDeclaration>(&each.body);
    if (signal != nullptr && !places_hold(signal->value, each.place, sources)) return {"a wrong place"};
  }
  if (to_text(tree).empty() != tree.declarations.empty()) return {"a declaration that is not listed"};
  return {};
}

inline Finding exercise(std::string_view text) {
  const Finding finding = check_reading(std::string(text));
  if (!finding.broken_promise.empty()) return finding;
  (void)dsl::compile_text("fuzz", std::string(text));
  return {};
}

}  // namespace detent::fuzz
