#include "cli/lsp/analysis.hpp"

#include <algorithm>

namespace detent::cli::lsp {
namespace {

bool holds_only_parts(const dsl::Tree& tree) {
  const auto& all = tree.declarations;
  const bool parts = std::all_of(all.begin(), all.end(), [](const dsl::Declaration& declaration) {
    return std::holds_alternative<dsl::PartDeclaration>(declaration.body);
  });
  return parts && !all.empty();
}

/// What is said of a design and not of parts that wait to be included.
bool is_about_designs(const dsl::Diagnostic& diagnostic) {
  return diagnostic.code == dsl::Code::no_tick || diagnostic.code == dsl::Code::no_claim ||
         diagnostic.code == dsl::Code::unused;
}

}  // namespace

Position Analysis::position(std::uint32_t file, std::uint32_t offset) const {
  return lines[file].position(compiled.sources.text(file), offset, encoding);
}

Json Analysis::range(const dsl::Place& place) const {
  const Position begin = position(place.file, place.begin);
  Position end = position(place.file, place.end);
  if (begin == end) {
    const std::string_view text = compiled.sources.text(place.file);
    const std::size_t line_end = lines[place.file].line_end(text, begin.line);
    if (place.begin < line_end) ++end.character;
  }
  return json_range(begin, end);
}

std::optional<std::uint32_t> Analysis::file(const std::string& wanted) const {
  for (std::uint32_t number = 0; number < compiled.sources.size(); ++number) {
    if (path_of_file(number) == wanted) return number;
  }
  return std::nullopt;
}

const std::string& Analysis::path_of_file(std::uint32_t number) const {
  return number == 0 ? path : compiled.sources.name(number);
}

std::shared_ptr<const Analysis> analyse(const std::string& path, const dsl::FileReader& read,
                                        Encoding encoding) {
  auto made = std::make_shared<Analysis>();
  made->path = path;
  made->encoding = encoding;
  made->compiled = dsl::compile(path, [&](const std::string& wanted) {
    made->needed.insert(wanted);
    return read(wanted);
  });
  made->names = dsl::index_names(made->compiled.tree, made->compiled.sources);
  for (std::uint32_t file = 0; file < made->compiled.sources.size(); ++file) {
    made->lines.emplace_back(made->compiled.sources.text(file));
  }
  made->only_parts = holds_only_parts(made->compiled.tree);
  if (made->only_parts) std::erase_if(made->compiled.diagnostics, is_about_designs);
  return made;
}

}  // namespace detent::cli::lsp
