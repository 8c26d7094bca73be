// Source texts and the way from a place to the line and column that a person looks for.
#include "dsl/source.hpp"

#include <algorithm>
#include <limits>
#include <stdexcept>

namespace detent::dsl {
namespace {

std::vector<std::uint32_t> find_line_starts(std::string_view text) {
  std::vector<std::uint32_t> starts{0};
  for (std::size_t at = text.find('\n'); at != text.npos; at = text.find('\n', at + 1)) {
    starts.push_back(static_cast<std::uint32_t>(at + 1));
  }
  return starts;
}

/// Every byte begins a character except the second and later ones of a UTF-8 sequence.
bool begins_character(char byte) {
  return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U;
}

std::size_t index_of_line(const std::vector<std::uint32_t>& starts, std::uint32_t offset) {
  const auto after = std::upper_bound(starts.begin(), starts.end(), offset);
  return static_cast<std::size_t>(after - starts.begin()) - 1;
}

}  // namespace

std::uint32_t Sources::add(std::string name, std::string text) {
  if (text.size() >= std::numeric_limits<std::uint32_t>::max()) {
    throw std::length_error("a source text must be smaller than 4 GiB");
  }
  std::vector<std::uint32_t> starts = find_line_starts(text);
  files_.push_back({std::move(name), std::move(text), std::move(starts)});
  return static_cast<std::uint32_t>(files_.size() - 1);
}

std::string_view Sources::text(const Place& place) const {
  const std::string_view whole = text(place.file);
  const std::size_t begin = std::min<std::size_t>(place.begin, whole.size());
  const std::size_t end = std::clamp<std::size_t>(place.end, begin, whole.size());
  return whole.substr(begin, end - begin);
}

LineColumn Sources::line_column(const Place& place) const {
  const File& file = files_.at(place.file);
  const auto offset = std::min(place.begin, static_cast<std::uint32_t>(file.text.size()));
  const std::size_t line = index_of_line(file.line_starts, offset);
  const std::string_view before =
      std::string_view(file.text).substr(file.line_starts[line], offset - file.line_starts[line]);
  const auto characters = std::count_if(before.begin(), before.end(), begins_character);
  return {line + 1, static_cast<std::size_t>(characters) + 1};
}

std::string_view Sources::line_text(const Place& place) const {
  const File& file = files_.at(place.file);
  const auto offset = std::min(place.begin, static_cast<std::uint32_t>(file.text.size()));
  const std::uint32_t start = file.line_starts[index_of_line(file.line_starts, offset)];
  std::string_view line = std::string_view(file.text).substr(start);
  line = line.substr(0, line.find('\n'));
  if (line.ends_with('\r')) line.remove_suffix(1);
  return line;
}

}  // namespace detent::dsl
