#include "cli/starting_designs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <span>

#include "cli/shipped_texts.hpp"

namespace detent::cli {
namespace {

const ShippedText* find(std::span<const ShippedText> texts, std::string_view name) {
  const auto found =
      std::find_if(texts.begin(), texts.end(), [name](const ShippedText& one) { return one.name == name; });
  return found == texts.end() ? nullptr : &*found;
}

/// What stands between the quotes of the line that begins with `word`, or "".
std::string_view quoted_behind(std::string_view text, std::string_view word) {
  const std::size_t line = text.find(fmt::format("\n{} \"", word));
  if (line == std::string_view::npos) return "";
  const std::size_t begin = text.find('"', line) + 1;
  return text.substr(begin, text.find('"', begin) - begin);
}

/// "iec_61131_3.detent" of `include "../parts/iec_61131_3.detent"`, or "" for any other line.
std::string_view included_file(std::string_view line) {
  constexpr std::string_view word = "include \"";
  if (!line.starts_with(word)) return "";
  const std::string_view path = line.substr(word.size(), line.find('"', word.size()) - word.size());
  return path.substr(path.rfind('/') + 1);
}

bool is_for_tests(std::string_view line) {
  return line.starts_with("// expect ") || line.starts_with("// check within ");
}

void append(std::string& result, std::string_view text) {
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    const std::string_view line = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (const ShippedText* part = find(shipped_parts(), included_file(line))) {
      append(result, part->text);
    } else if (!is_for_tests(line)) {
      result.append(line).append("\n");
    }
  }
}

constexpr const char* heading =
    "// Begun with: detent new --from {}. Now change it into what you build, and check that.\n"
    "// Blade or propeller off on the bench: a proof is about this text, not about your wiring. Local codes "
    "and\n"
    "// licensed practice decide what is allowed.\n"
    "//\n";

}  // namespace

std::vector<StartingDesign> starting_designs() {
  std::vector<StartingDesign> designs;
  for (const ShippedText& one : shipped_functions())
    designs.push_back({one.name, quoted_behind(one.text, "design")});
  std::sort(designs.begin(), designs.end(),
            [](const StartingDesign& a, const StartingDesign& b) { return a.name < b.name; });
  return designs;
}

std::optional<std::string> starting_text(std::string_view name) {
  const ShippedText* function = find(shipped_functions(), name);
  if (function == nullptr) return std::nullopt;
  std::string text = fmt::format(heading, name);
  append(text, function->text);
  text.erase(text.find_last_not_of('\n') + 1);
  return text + '\n';
}

}  // namespace detent::cli
