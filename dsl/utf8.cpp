// UTF-8 as RFC 3629 defines it: no overlong forms, no surrogates, nothing above U+10FFFF.
#include "dsl/utf8.hpp"

#include <algorithm>
#include <iterator>

namespace detent::dsl {
namespace {

unsigned byte_at(std::string_view text, std::size_t at) {
  return static_cast<unsigned char>(text[at]);
}

std::size_t length_of_lead(unsigned lead) {
  if (lead >= 0xC2 && lead <= 0xDF) return 2;
  if (lead >= 0xE0 && lead <= 0xEF) return 3;
  if (lead >= 0xF0 && lead <= 0xF4) return 4;
  return 1;
}

bool is_scalar(char32_t code, std::size_t length) {
  if (length == 3) return code >= 0x800 && (code < 0xD800 || code > 0xDFFF);
  return length == 2 || (code >= 0x10000 && code <= 0x10FFFF);
}

struct Span {
  char32_t first, last;
};

template <std::size_t Size>
bool within(const Span (&spans)[Size], char32_t code) {
  return std::any_of(std::begin(spans), std::end(spans),
                     [code](const Span& span) { return code >= span.first && code <= span.last; });
}

// The common ones of Unicode's tables of combining (general category Mn) and wide (UAX #11, W and F)
// characters, from memory; a character that is missing here shifts a caret by a column and harms nothing
// else.
constexpr Span combining[] = {{0x0300, 0x036F}, {0x0483, 0x0489}, {0x0591, 0x05BD}, {0x0610, 0x061A},
                              {0x064B, 0x065F}, {0x0E34, 0x0E3A}, {0x0E47, 0x0E4E}, {0x200B, 0x200D},
                              {0x20D0, 0x20F0}, {0xFE00, 0xFE0F}, {0xFE20, 0xFE2F}};
constexpr Span wide[] = {{0x1100, 0x115F},   {0x2E80, 0x303E},   {0x3041, 0xA4CF},  {0xAC00, 0xD7A3},
                         {0xF900, 0xFAFF},   {0xFE30, 0xFE6F},   {0xFF00, 0xFF60},  {0xFFE0, 0xFFE6},
                         {0x1F300, 0x1F64F}, {0x1F900, 0x1F9FF}, {0x20000, 0x3FFFD}};
// U+200E/F, U+202A-E, U+2066-9: Boucher and Anderson, "Trojan Source", 2021, show texts that read one way and
// mean another by them. U+2028/9 are line ends to some programs and not to others.
constexpr Span unprintable[] = {{0x00, 0x1F},     {0x7F, 0x9F},     {0x200E, 0x200F},
                                {0x2028, 0x202E}, {0x2066, 0x2069}, {0xFEFF, 0xFEFF}};

}  // namespace

Character character_at(std::string_view text, std::size_t at) {
  const unsigned lead = byte_at(text, at);
  if (lead < 0x80) return {lead, 1, true};
  const std::size_t length = length_of_lead(lead);
  if (length == 1 || text.size() - at < length) return {lead, 1, false};
  char32_t code = lead & (0x7FU >> length);
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte_at(text, at + i) & 0xC0U) != 0x80U) return {lead, 1, false};
    code = (code << 6U) | (byte_at(text, at + i) & 0x3FU);
  }
  if (!is_scalar(code, length)) return {lead, 1, false};
  return {code, length, true};
}

bool is_unprintable(const Character& character) {
  return !character.valid || within(unprintable, character.code);
}

int columns(char32_t code) {
  if (code < 0x300) return 1;
  return within(combining, code) ? 0 : within(wide, code) ? 2 : 1;
}

std::string printable(std::string_view text) {
  std::string shown;
  shown.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) {
    const Character character = character_at(text, at);
    if (text[at] == '\t') {
      shown += ' ';
    } else if (is_unprintable(character)) {
      shown += "\xEF\xBF\xBD";
    } else {
      shown += text.substr(at, character.size);
    }
    at += character.size;
  }
  return shown;
}

}  // namespace detent::dsl
