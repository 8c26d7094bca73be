#include "dsl/fitting_words.hpp"

#include <algorithm>
#include <array>
#include <map>

namespace detent::dsl {
namespace {

using Words = std::vector<std::string_view>;

constexpr auto before_operand = std::to_array<std::string_view>(
    {"and", "or",   "xor",    "not",   "implies",  "if",       "then",  "else",  "when",     "while",
     "on",  "set",  "reset",  "up",    "down",     "by",       "after", "until", "starting", "from",
     "to",  "step", "always", "never", "whenever", "possible", "(",     ",",     "=",        ":",
     "+",   "-",    "*",      "<",     "<=",       ">",        ">=",    "==",    "!="});

constexpr auto outside_parts = std::to_array<std::string_view>(
    {"design", "tick", "channel", "switch", "button", "link", "power_up", "at", "part", "include"});

template <std::size_t Size>
bool contains(const std::array<std::string_view, Size>& words, std::string_view word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

}  // namespace

const std::vector<std::string_view> words_after_operand{"and", "or", "xor", "implies", "is"};

const Words& words_within(std::string_view declaration) {
  static const Words none;
  static const std::map<std::string_view, Words> words{
      {"channel", {"from", "to", "step", "moving"}},
      {"switch", {"is"}},
      {"link", {"carries", "lost"}},
      {"pulse", {"on", "for", "restarting", "cancelled"}},
      {"delay", {"on", "for"}},
      {"linger", {"on", "for"}},
      {"latch", {"set", "reset", "wins", "starting"}},
      {"counter", {"up", "down", "reset", "from", "to"}},
      {"keep", {"when", "starting"}},
      {"stages", {"is", "after", "when"}},
      {"output", {"when", "else"}},
      {"tunable", {"from", "to"}},
      {"claim", {"while", "within", "for", "only", "lasts"}},
      {"assume", {"while", "within", "for", "only", "lasts"}}};
  const auto found = words.find(declaration);
  return found == words.end() ? none : found->second;
}

bool awaits_operand(const LooseToken& last) {
  return contains(before_operand, last.text);
}

bool may_begin_in_part(std::string_view declaration) {
  return !contains(outside_parts, declaration);
}

}  // namespace detent::dsl
