#include "case_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "cli/reader.hpp"

namespace detent::test {
namespace {

const std::filesystem::path cases_root = std::filesystem::path(DETENT_SOURCE_DIR) / "tests" / "cases";

std::string said(const dsl::Diagnostic& diagnostic, const dsl::Sources& sources, const CaseFile& file) {
  const dsl::LineColumn where = sources.line_column(diagnostic.place);
  const std::string severity = diagnostic.severity() == dsl::Severity::error ? "error" : "warning";
  std::string line =
      fmt::format("{} {} at {}:{}", severity, dsl::code_name(diagnostic.code), where.line, where.column);
  if (diagnostic.place.file != 0) {
    const auto folder = std::filesystem::path(file.path).parent_path();
    const std::filesystem::path name = sources.name(diagnostic.place.file);
    line += " in " + name.lexically_relative(folder).generic_string();
  }
  return line;
}

}  // namespace

std::vector<CaseFile> case_files(const std::string& folder) {
  std::vector<CaseFile> files;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(cases_root / folder)) {
    if (entry.is_regular_file() && entry.path().extension() == ".detent") {
      files.push_back({entry.path().string(), entry.path().lexically_relative(cases_root).generic_string()});
    }
  }
  std::sort(files.begin(), files.end(),
            [](const CaseFile& one, const CaseFile& other) { return one.shown < other.shown; });
  return files;
}

dsl::Compiled compile_case(const CaseFile& file) {
  return dsl::compile(file.path, cli::file_reader(file.path));
}

std::vector<std::string> expectations(const std::string& text) {
  constexpr std::string_view mark = "// expect ";
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) {
    if (!line.empty() && line.back() == '\r') line.pop_back();
    if (line.starts_with(mark)) lines.push_back(line.substr(mark.size()));
  }
  std::sort(lines.begin(), lines.end());
  return lines;
}

std::vector<std::string> findings(const dsl::Compiled& compiled, const CaseFile& file) {
  std::vector<std::string> lines;
  for (const dsl::Diagnostic& diagnostic : compiled.diagnostics) {
    lines.push_back(said(diagnostic, compiled.sources, file));
  }
  std::sort(lines.begin(), lines.end());
  return lines;
}

std::string text_of_file(const std::string& path) {
  std::ifstream stream(path, std::ios::binary);
  if (!stream) throw std::runtime_error("cannot read " + path);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

}  // namespace detent::test
