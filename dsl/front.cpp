#include "dsl/front.hpp"

#include <utility>

#include "dsl/check.hpp"
#include "dsl/lower.hpp"

namespace detent::dsl {

Compiled compile(const std::string& path, const FileReader& read) {
  Compiled compiled;
  compiled.tree = load(path, read, compiled.sources, compiled.diagnostics);
  // Checking goes on after mistakes of the grammar, so that one run reports all it can find.
  if (auto design = check(compiled.tree, compiled.sources, compiled.diagnostics)) {
    Model model = lower(*design, compiled.sources, compiled.diagnostics);
    if (!has_errors(compiled.diagnostics)) {
      compiled.model = std::move(model);
    }
  }
  sort_by_place(compiled.diagnostics);
  return compiled;
}

Compiled compile_text(const std::string& name, const std::string& text) {
  return compile(name, [&](const std::string& path) {
    return path == name ? FileText{text} : FileText{std::nullopt, "there is no such file"};
  });
}

}  // namespace detent::dsl
