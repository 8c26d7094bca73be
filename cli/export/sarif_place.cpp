#include "cli/export/sarif_place.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "cli/page.hpp"

namespace detent::cli {
namespace {

bool is_unreserved(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '.' ||
         c == '_' || c == '~';
}

struct LineUnits {
  std::size_t line = 1, column = 1;
};

/// What lies outside the first plane takes two units: it is what begins with a byte from F0 on.
LineUnits units_at(const dsl::Sources& sources, std::uint32_t file, std::uint32_t offset) {
  const std::string_view text = sources.text(file).substr(0, offset);
  const std::size_t end = text.rfind('\n');
  const std::string_view before = end == std::string_view::npos ? text : text.substr(end + 1);
  LineUnits place{sources.line_column({file, offset, offset}).line, 1};
  for (const char c : before) {
    const auto byte = static_cast<unsigned char>(c);
    if ((byte & 0xC0U) != 0x80U) place.column += byte >= 0xF0U ? 2 : 1;
  }
  return place;
}

}  // namespace

std::string uri_of(const std::string& file) {
  const std::string path = std::filesystem::path(file).lexically_normal().string();
  std::string uri = path.starts_with("/") ? "file://" : "";
  for (const char c : path) {
    uri += is_unreserved(c) || c == '/' ? std::string(1, c)
                                        : fmt::format("%{:02X}", static_cast<unsigned char>(c));
  }
  return uri;
}

Json sarif_region(const dsl::Sources& sources, const dsl::Place& place) {
  const auto size = static_cast<std::uint32_t>(sources.text(place.file).size());
  const std::uint32_t first = std::min(place.begin, size);
  const LineUnits begin = units_at(sources, place.file, first);
  const LineUnits end = units_at(sources, place.file, std::clamp(place.end, first, size));
  return {{"startLine", begin.line},
          {"startColumn", begin.column},
          {"endLine", end.line},
          {"endColumn", end.column}};
}

std::optional<Json> sarif_location(const dsl::Sources& sources, const dsl::Place& place,
                                   const std::string& message) {
  if (place.file >= sources.size()) return std::nullopt;
  Json location{{"physicalLocation",
                 {{"artifactLocation", {{"uri", uri_of(sources.name(place.file))}, {"index", place.file}}},
                  {"region", sarif_region(sources, place)}}}};
  if (!message.empty()) location["message"] = sarif_message(message);
  return location;
}

Json sarif_message(const std::string& text) {
  return {{"text", printable_lines(text, true)}};
}

}  // namespace detent::cli
