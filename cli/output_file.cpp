#include "cli/output_file.hpp"

#include <fmt/format.h>

#include <filesystem>

#include "cli/page.hpp"
#include "cli/whole_file.hpp"

namespace detent::cli {
namespace {

CommandResult cannot_write(const OutputFile& output, const std::string& why) {
  return usage_error(fmt::format("-o: can't write {} to '{}': {}", output.what, *output.path, why),
                     "name a file in a folder that can be written to, on a disk with room");
}

bool is_same_file(const std::string& one, const std::string& other) {
  std::error_code problem;
  return std::filesystem::equivalent(one, other, problem) && !problem;
}

}  // namespace

void keep_designs(OutputFile& output, const dsl::Sources& designs) {
  for (std::uint32_t file = 0; file < designs.size(); ++file) {
    output.keep.emplace_back("the design", designs.name(file));
  }
}

std::optional<CommandResult> try_output_file(const OutputFile& output) {
  if (!output.is_file()) return std::nullopt;
  for (const auto& [what, file] : output.keep) {
    if (is_same_file(*output.path, file)) {
      return usage_error(fmt::format("-o: '{}' is {} itself", *output.path, what),
                         fmt::format("name another file: -o {}", output.example));
    }
  }
  if (output.path->ends_with(".detent")) {
    return usage_error(
        fmt::format("-o: '{}' is called like a design, and designs are never written over", *output.path),
        fmt::format("name another file: -o {}", output.example));
  }
  const std::string why = try_whole_file(*output.path);
  return why.empty() ? std::nullopt : std::optional(cannot_write(output, why));
}

CommandResult deliver_output(const OutputFile& output, const std::string& text, Status status,
                             const std::string& told) {
  if (!output.is_file()) return {.output = text, .status = status};
  const std::string why = write_whole_file(*output.path, text);
  if (!why.empty()) return cannot_write(output, why);
  return {.output = printable_lines(told, true), .status = status};
}

}  // namespace detent::cli
