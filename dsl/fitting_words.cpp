#include "dsl/fitting_words.hpp"

#include <algorithm>
#include <array>

namespace detent::dsl {
namespace {

constexpr auto before_operand = std::to_array<std::string_view>(
    {"and", "or",   "xor",    "not",   "implies",  "if",       "then",  "else",  "when",     "while",
     "on",  "set",  "reset",  "up",    "down",     "by",       "after", "until", "starting", "from",
     "to",  "step", "always", "never", "whenever", "possible", "(",     ",",     "=",        ":",
     "+",   "-",    "*",      "<",     "<=",       ">",        ">=",    "==",    "!="});

constexpr auto outside_parts = std::to_array<std::string_view>(
    {"design", "tick", "channel", "switch", "button", "link", "power_up", "at", "part", "include"});

/// The words inside a declaration, in the order in which they are written; "" behind the last.
struct Inside {
  std::string_view declaration;
  std::array<std::string_view, 5> words;
};
constexpr auto inside = std::to_array<Inside>({
    Inside{"channel", {"from", "to", "step", "moving"}},
    Inside{"switch", {"is"}},
    Inside{"link", {"carries", "lost"}},
    Inside{"pulse", {"on", "for", "restarting", "cancelled"}},
    Inside{"delay", {"on", "for"}},
    Inside{"linger", {"on", "for"}},
    Inside{"latch", {"set", "reset", "wins", "starting"}},
    Inside{"counter", {"up", "down", "reset", "from", "to"}},
    Inside{"keep", {"when", "starting"}},
    Inside{"stages", {"is", "after", "when"}},
    Inside{"output", {"when", "else"}},
    Inside{"tunable", {"from", "to"}},
    Inside{"claim", {"while", "within", "for", "only", "lasts"}},
    Inside{"assume", {"while", "within", "for", "only", "lasts"}},
});

constexpr auto after_operand = std::to_array<std::string_view>({"and", "or", "xor", "implies", "is"});

template <std::size_t Size>
bool contains(const std::array<std::string_view, Size>& words, std::string_view word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

}  // namespace

std::span<const std::string_view> words_after_operand() {
  return after_operand;
}

std::span<const std::string_view> words_within(std::string_view declaration) {
  const auto found = std::find_if(inside.begin(), inside.end(),
                                  [&](const Inside& one) { return one.declaration == declaration; });
  if (found == inside.end()) return {};
  const auto end = std::find(found->words.begin(), found->words.end(), "");
  return {found->words.begin(), end};
}

bool awaits_operand(const LooseToken& last) {
  return contains(before_operand, last.text);
}

bool may_begin_in_part(std::string_view declaration) {
  return !contains(outside_parts, declaration);
}

}  // namespace detent::dsl
