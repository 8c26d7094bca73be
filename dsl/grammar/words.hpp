// The words that the language keeps for itself, each set in one table.
#pragma once

#include <algorithm>
#include <array>
#include <string_view>

namespace detent::dsl::grammar {

/// Words that begin a declaration: the places where reading can start afresh after a mistake.
inline constexpr auto declaration_words = std::to_array<std::string_view>(
    {"design",   "tick",   "channel", "switch",  "button", "link",   "signal", "pulse",
     "delay",    "linger", "latch",   "counter", "keep",   "stages", "output", "tunable",
     "power_up", "at",     "claim",   "assume",  "part",   "use",    "include"});

/// The calls of an expression.
inline constexpr auto call_words =
    std::to_array<std::string_view>({"rises", "falls", "changes", "previous", "held", "recently", "since",
                                     "below", "above", "min", "max", "abs", "hand"});

/// Words that stand inside a declaration: they can begin or follow an expression or a name.
inline constexpr auto inner_words = std::to_array<std::string_view>(
    {"and",        "or",        "xor",   "not",      "implies",  "is",    "if",       "then",
     "else",       "when",      "after", "while",    "within",   "only",  "lasts",    "for",
     "restarting", "cancelled", "by",    "set",      "reset",    "wins",  "starting", "up",
     "down",       "from",      "to",    "step",     "moving",   "on",    "true",     "false",
     "any",        "always",    "never", "whenever", "possible", "until", "end"});

/// Reserved words that may nevertheless be a switch position or a stage (`switch flap is up | down`):
/// a position stands only where nothing else can.
inline constexpr auto position_words = std::to_array<std::string_view>({"on", "up", "down", "set", "reset"});

/// Words that mean something at one place each, and may be names everywhere else.
inline constexpr auto place_words = std::to_array<std::string_view>(
    {"carries", "lost", "as", "before", "most", "least", "per", "edges", "counted", "ignored", "either",
     "off", "condition", "level", "count", "duration"});

template <std::size_t Size>
constexpr bool contains(const std::array<std::string_view, Size>& words, std::string_view word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

[[nodiscard]] bool is_reserved(std::string_view word);

}  // namespace detent::dsl::grammar
