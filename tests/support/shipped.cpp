#include "tests/support/shipped.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <regex>
#include <sstream>
#include <stdexcept>

#include "cli/reader.hpp"

namespace detent::test {
namespace {

namespace fs = std::filesystem;

const std::string specs = DETENT_SOURCE_DIR "/specs/";

std::vector<std::string> lines_in(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

std::string with_single_blanks(const std::string& line) {
  return std::regex_replace(line, std::regex(" +"), " ");
}

std::string behind(const std::string& line, const std::string& beginning) {
  return line.starts_with(beginning) ? line.substr(beginning.size()) : "";
}

void replace_line(std::vector<std::string>& lines, const std::string& beginning, const std::string& by) {
  std::vector<std::size_t> found;
  for (std::size_t number = 0; number < lines.size(); ++number) {
    if (with_single_blanks(lines[number]).starts_with(beginning)) found.push_back(number);
  }
  if (found.size() != 1 || by.empty())
    throw std::runtime_error("the mend does not fit: a line that begins: " + beginning);
  lines[found.front()] = by;
}

}  // namespace

std::vector<std::string> shipped_files(const std::string& folder) {
  std::vector<std::string> paths;
  for (const auto& entry : fs::recursive_directory_iterator(specs + folder)) {
    if (entry.path().extension() == ".detent") paths.push_back(entry.path().lexically_normal().string());
  }
  std::sort(paths.begin(), paths.end());
  return paths;
}

std::string shipped_text(const std::string& name) {
  std::ifstream file(specs + name, std::ios::binary);
  if (!file) throw std::runtime_error("there is no " + specs + name);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

dsl::Compiled compile_changed(const std::string& path, const TextChange& change) {
  const dsl::FileReader read = cli::file_reader(path);
  return dsl::compile(path, [&](const std::string& wanted) {
    dsl::FileText file = read(wanted);
    if (change && wanted == path && file.text) file.text = change(*file.text);
    return file;
  });
}

dsl::Model shipped_model(const std::string& name, const TextChange& change) {
  dsl::Compiled compiled = compile_changed(specs + name, change);
  if (compiled.model) return std::move(*compiled.model);
  std::string messages = name + "\n";
  for (const dsl::Diagnostic& one : compiled.diagnostics) messages += dsl::to_text(one, compiled.sources);
  throw std::runtime_error(messages);
}

std::string mended(const std::string& text) {
  const std::vector<std::string> lines = lines_in(text);
  std::vector<std::string> result = lines;
  bool any = false;
  for (std::size_t number = 1; number < lines.size(); ++number) {
    const std::string beginning = behind(lines[number], "// in the place of the line that begins: ");
    if (beginning.empty()) continue;
    replace_line(result, beginning, behind(lines[number - 1], "//   "));
    any = true;
  }
  if (!any) throw std::runtime_error("there is no mend");
  std::string whole;
  for (const std::string& line : result) whole += line + '\n';
  return whole;
}

}  // namespace detent::test
