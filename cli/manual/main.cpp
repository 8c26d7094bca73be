// Writes the manual pages and completions into a folder while the program is built: `detent_manual FOLDER
// DATE`.
#include <fmt/format.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <stdexcept>

#include "cli/manual/command_line.hpp"
#include "cli/manual/completions.hpp"
#include "cli/manual/man_page.hpp"

namespace {

namespace manual = detent::cli::manual;

void write(const std::filesystem::path& file, const std::string& text) {
  std::ofstream stream(file, std::ios::binary);
  stream << text << std::flush;
  if (!stream) throw std::runtime_error(fmt::format("{} can't be written", file.string()));
}

void write_all(const std::filesystem::path& folder, const manual::Edition& edition) {
  const std::vector<manual::CommandLine> commands = manual::command_lines();
  std::filesystem::create_directories(folder);
  write(folder / "detent.1", manual::overview_page(edition));
  for (const manual::CommandLine& command : commands) {
    write(folder / fmt::format("detent-{}.1", command.name),
          manual::command_page(command.name, command.help, edition));
  }
  write(folder / "detent.bash", manual::bash_completion(commands));
  write(folder / "_detent", manual::zsh_completion(commands));
  write(folder / "detent.fish", manual::fish_completion(commands));
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) {
    std::fputs("write: detent_manual FOLDER DATE\n", stderr);
    return 2;
  }
  try {
    write_all(argv[1], {.version = DETENT_VERSION, .date = argv[2]});
  } catch (const std::exception& problem) {
    fmt::print(stderr, "detent_manual: {}\n", problem.what());
    return 1;
  }
  return 0;
}
