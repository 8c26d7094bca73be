#include "dsl/front.hpp"

#include <set>
#include <utility>

#include "dsl/check.hpp"
#include "dsl/lower.hpp"

namespace detent::dsl {
namespace {

/// A character or a number that could not be read.
bool is_unread(const Diagnostic& one) {
  return one.code == Code::bad_character || one.code == Code::bad_number;
}

/// What else is said of a line that holds such a thing is most likely a consequence of it: `from −100 %`,
/// written with the minus sign of a word processor, reads as `from 100 %`.
void forget_consequences(Diagnostics& diagnostics, const Sources& sources) {
  std::set<std::pair<std::uint32_t, std::size_t>> lines;
  const auto line_of = [&](const Diagnostic& one) {
    return std::pair(one.place.file, sources.line_column(one.place).line);
  };
  for (const Diagnostic& one : diagnostics) {
    if (is_unread(one)) {
      lines.insert(line_of(one));
    }
  }
  if (!lines.empty()) {
    std::erase_if(diagnostics,
                  [&](const Diagnostic& one) { return !is_unread(one) && lines.contains(line_of(one)); });
  }
}

}  // namespace

Compiled compile(const std::string& path, const FileReader& read) {
  Compiled compiled;
  compiled.tree = load(path, read, compiled.sources, compiled.diagnostics);
  // Checking goes on after mistakes of the grammar, so that one run reports all it can find.
  if (auto design = check(compiled.tree, compiled.sources, compiled.diagnostics)) {
    Model model = lower(*design, compiled.sources, compiled.diagnostics);
    if (!has_errors(compiled.diagnostics)) {
      compiled.model = std::move(model);
      compiled.design = std::move(design);
    }
  }
  forget_consequences(compiled.diagnostics, compiled.sources);
  sort_by_place(compiled.diagnostics);
  return compiled;
}

Compiled compile_text(const std::string& name, const std::string& text) {
  return compile(name, [&](const std::string& path) {
    return path == name ? FileText{text} : FileText{std::nullopt, "there is no such file"};
  });
}

}  // namespace detent::dsl
