#include "cli/lsp/workspace.hpp"

#include <algorithm>
#include <utility>

namespace detent::cli::lsp {
namespace {

/// Whether a design was made of another text under this path, or of none.
bool differs(const Analysis& design, const std::string& path, const dsl::FileText& now) {
  const auto file = design.file(path);
  if (!file) return design.needed.contains(path) && now.text;
  return !now.text || design.compiled.sources.text(*file) != *now.text;
}

}  // namespace

dsl::FileText Workspace::read(const std::string& path) const {
  const auto found = open_.find(path);
  return found == open_.end() ? disk_(path) : dsl::FileText{.text = found->second.document.text()};
}

void Workspace::open(Document document, Encoding encoding) {
  const std::string path = document.path();
  open_.erase(path);
  OpenDesign& one = open_.emplace(path, OpenDesign{.document = std::move(document)}).first->second;
  analysed(one, encoding);
}

void Workspace::close(const std::string& path) {
  open_.erase(path);
}

OpenDesign* Workspace::find(const std::string& path) {
  const auto found = open_.find(path);
  return found == open_.end() ? nullptr : &found->second;
}

const Analysis& Workspace::analysed(OpenDesign& one, Encoding encoding) {
  if (!one.design) {
    one.design = analyse(
        one.document.path(), [this](const std::string& path) { return read(path); }, encoding);
  }
  return *one.design;
}

std::vector<OpenDesign*> Workspace::designs_with(const std::string& path, Encoding encoding) {
  std::vector<OpenDesign*> designs;
  for (auto& [main, one] : open_) {
    if (analysed(one, encoding).file(path)) designs.push_back(&one);
  }
  const auto rank = [&](const OpenDesign* one) {
    const bool own = one->document.path() == path;
    return own ? (one->design->only_parts ? 2 : 0) : 1;
  };
  std::stable_sort(designs.begin(), designs.end(),
                   [&](const OpenDesign* one, const OpenDesign* other) { return rank(one) < rank(other); });
  return designs;
}

bool Workspace::any_lost(const Analysis& design) const {
  return std::any_of(design.needed.begin(), design.needed.end(), [&](const std::string& path) {
    const auto found = open_.find(path);
    return found != open_.end() && found->second.document.is_lost();
  });
}

std::vector<OpenDesign*> Workspace::outdated_by(const std::string& path) {
  std::vector<OpenDesign*> outdated;
  const dsl::FileText now = read(path);
  for (auto& [main, one] : open_) {
    if (one.design && differs(*one.design, path, now)) outdated.push_back(&one);
  }
  return outdated;
}

std::vector<OpenDesign*> Workspace::outdated() {
  std::vector<OpenDesign*> outdated;
  for (auto& [main, one] : open_) {
    if (!one.design) continue;
    const Analysis& design = *one.design;
    const bool changed =
        std::any_of(design.needed.begin(), design.needed.end(),
                    [&](const std::string& path) { return differs(design, path, read(path)); });
    if (changed) outdated.push_back(&one);
  }
  return outdated;
}

}  // namespace detent::cli::lsp
