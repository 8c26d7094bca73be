#include "cli/shard/shard.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <optional>
#include <string_view>

namespace detent::cli {
namespace {

std::optional<std::size_t> whole(std::string_view text) {
  std::size_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  const bool all = error == std::errc{} && end == text.data() + text.size();
  return all ? std::optional(number) : std::nullopt;
}

}  // namespace

std::pair<std::size_t, std::size_t> Shard::stretch(std::size_t count) const {
  const auto cut = [&](std::size_t at) { return count / of * at + count % of * at / of; };
  return {cut(number - 1), cut(number)};
}

std::string Shard::text() const {
  return fmt::format("{}/{}", number, of);
}

Reading<Shard> read_shard(const std::string& text) {
  const std::size_t slash = std::min(text.find('/'), text.size());
  const std::string_view words = text;
  const auto number = whole(words.substr(0, slash));
  const auto of = slash < text.size() ? whole(words.substr(slash + 1)) : std::nullopt;
  if (!number || !of) {
    return {.problem = fmt::format("'{}' is no shard", text),
            .mend = "write which one, a stroke, and how many there are: --shard 1/8 to --shard 8/8"};
  }
  if (*of == 0 || *of > most_shards) {
    return {.problem = fmt::format("'{}': there can't be {} shards", text, *of),
            .mend = fmt::format("write a number from 1 to {} behind the stroke", most_shards)};
  }
  if (*number == 0 || *number > *of) {
    return {.problem = fmt::format("'{}': of {} there is no shard {}", text, *of, *number),
            .mend = fmt::format("they are counted from 1: --shard 1/{0} to --shard {0}/{0}", *of)};
  }
  return {.value = Shard{*number, *of}};
}

}  // namespace detent::cli
