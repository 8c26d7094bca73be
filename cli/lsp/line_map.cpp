#include "cli/lsp/line_map.hpp"

#include <algorithm>

#include "dsl/utf8.hpp"

namespace detent::cli::lsp {
namespace {

/// A byte that is no UTF-8 counts as one, as in the text that a client would see in its place.
std::size_t units(const dsl::Character& character, Encoding encoding) {
  if (encoding == Encoding::utf8) return character.size;
  return character.code > 0xFFFF ? 2 : 1;
}

}  // namespace

LineMap::LineMap(std::string_view text) : starts_{0} {
  for (std::size_t at = text.find_first_of("\r\n"); at != std::string_view::npos;
       at = text.find_first_of("\r\n", starts_.back())) {
    const bool both = text.substr(at).starts_with("\r\n");
    starts_.push_back(at + (both ? 2 : 1));
  }
}

std::size_t LineMap::line_of(std::size_t offset) const {
  return static_cast<std::size_t>(std::upper_bound(starts_.begin(), starts_.end(), offset) -
                                  starts_.begin()) -
         1;
}

std::size_t LineMap::line_end(std::string_view text, std::size_t line) const {
  if (line + 1 >= starts_.size()) return text.size();
  std::size_t end = starts_[line + 1] - 1;
  if (end > starts_[line] && text[end] == '\n' && text[end - 1] == '\r') --end;
  return end;
}

std::size_t LineMap::offset(std::string_view text, Position position, Encoding encoding) const {
  if (position.line >= starts_.size()) return text.size();
  const std::size_t end = line_end(text, position.line);
  std::size_t at = starts_[position.line];
  std::size_t left = position.character;
  while (at < end && left > 0) {
    const dsl::Character character = dsl::character_at(text, at);
    const std::size_t width = units(character, encoding);
    if (width > left) break;
    left -= width;
    at += character.size;
  }
  return at;
}

Position LineMap::position(std::string_view text, std::size_t offset, Encoding encoding) const {
  offset = std::min(offset, text.size());
  const std::size_t line = line_of(offset);
  const std::size_t end = std::min(offset, line_end(text, line));
  std::size_t character = 0;
  for (std::size_t at = starts_[line]; at < end;) {
    const dsl::Character one = dsl::character_at(text, at);
    if (at + one.size > end) break;
    character += units(one, encoding);
    at += one.size;
  }
  return {static_cast<std::uint32_t>(line), static_cast<std::uint32_t>(character)};
}

Position read_position(const Json& json) {
  return {number_member(json, "line"), number_member(json, "character")};
}

Json json_of(Position position) {
  return {{"line", position.line}, {"character", position.character}};
}

Json json_range(Position begin, Position end) {
  return {{"start", json_of(begin)}, {"end", json_of(end)}};
}

}  // namespace detent::cli::lsp
