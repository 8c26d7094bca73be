#include "cli/lsp/questions.hpp"
#include "cli/lsp/text_edits.hpp"
#include "dsl/format.hpp"

namespace detent::cli::lsp {

/// A text that can't be read stays as it is: its mistakes are shown anyway.
Json formatting(const Question& question) {
  dsl::Sources sources;
  const std::string& before = question.open.document.text();
  dsl::Diagnostics diagnostics;
  const std::uint32_t file = sources.add(question.open.document.path(), before);
  const std::optional<std::string> after = dsl::format_text(sources, file, diagnostics);
  Json edits = Json::array();
  if (!after) return edits;
  const LineMap& lines = question.open.document.lines();
  const auto place = [&](std::size_t offset) {
    return lines.position(before, offset, question.client.encoding);
  };
  for (const TextEdit& edit : edits_between(before, *after)) {
    edits.push_back({{"range", json_range(place(edit.begin), place(edit.end))}, {"newText", edit.text}});
  }
  return edits;
}

}  // namespace detent::cli::lsp
