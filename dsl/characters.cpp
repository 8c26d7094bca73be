// Finds the characters that no text of the language may hold. Five are reported one by one; where there are
// more, the text is most likely no text at all, and nothing else is said of it.
#include "dsl/grammar/characters.hpp"

#include <fmt/format.h>

#include "dsl/utf8.hpp"

namespace detent::dsl::grammar {
namespace {

constexpr std::size_t most_strangers = 5;
constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

enum class Where { code, comment, quotes };

Where next_where(Where where, std::string_view text, std::size_t at) {
  const char byte = text[at];
  if (byte == '\n') return Where::code;
  if (where == Where::comment) return where;
  if (byte == '"') return where == Where::quotes ? Where::code : Where::quotes;
  if (where == Where::code && text.substr(at, 2) == "//") return Where::comment;
  return where;
}

bool is_permitted(const Character& character, Where where, std::string_view text, std::size_t at) {
  const char32_t code = character.code;
  if (code == '\n' || code == '\t') return true;
  if (code == '\r') return text.substr(at, 2) == "\r\n";
  if (is_unprintable(character)) return false;
  return code < 0x80 || where != Where::code;
}

std::string describe(const Character& character) {
  const auto code = static_cast<std::uint32_t>(character.code);
  if (!character.valid) return fmt::format("the byte 0x{:02X} is not part of any UTF-8 character", code);
  if (code == 0) return "the text holds a NUL character";
  if (code == '\r') return "a carriage return stands alone, without a line feed behind it";
  if (code < 0x20 || (code >= 0x7F && code < 0xA0)) {
    return fmt::format("the text holds the control character U+{:04X}", code);
  }
  if (is_unprintable(character)) return fmt::format("the text holds the invisible character U+{:04X}", code);
  return fmt::format("the character U+{:04X} may stand only in comments and in texts in quotes", code);
}

std::string mend(const Character& character) {
  if (!character.valid) return "save the file as UTF-8";
  switch (character.code) {
    case 0x201C:
    case 0x201D:
    case 0x201E:
      return "write a straight quote '\"'";
    case 0x2010:
    case 0x2011:
    case 0x2012:
    case 0x2013:
    case 0x2014:
    case 0x2212:
      return "write a minus sign '-'";
    case 0x2192:
      return "write '->'";
    case 0x2260:
      return "write '!='";
    case 0x2264:
      return "write '<='";
    case 0x2265:
      return "write '>='";
    case 0x00D7:
      return "write '*'";
    case 0x00A0:
      return "write an ordinary space";
    case 0x00B5:
    case 0x03BC:
      return "write 'u', as in 'us'";
    default:
      return "take it out";
  }
}

void add_stranger(Strangers& found, const Character& character, Place place) {
  if (found.offsets.size() == most_strangers) {
    found.too_many = true;
    found.diagnostics.push_back({Code::bad_character, place,
                                 "there are more such characters; reading stops at this one",
                                 "is this a design in plain text?"});
    return;
  }
  found.offsets.push_back(place.begin);
  found.diagnostics.push_back({Code::bad_character, place, describe(character), mend(character)});
}

}  // namespace

Strangers find_strangers(std::string_view text, std::uint32_t file) {
  Strangers found;
  Where where = Where::code;
  std::size_t at = text.starts_with(byte_order_mark) ? byte_order_mark.size() : 0;
  while (at < text.size() && !found.too_many) {
    const Character character = character_at(text, at);
    where = next_where(where, text, at);
    if (!is_permitted(character, where, text, at)) {
      const auto begin = static_cast<std::uint32_t>(at);
      add_stranger(found, character, {file, begin, static_cast<std::uint32_t>(at + character.size)});
    }
    at += character.size;
  }
  return found;
}

}  // namespace detent::dsl::grammar
