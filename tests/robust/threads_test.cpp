// The libraries keep nothing in common: 64 checks on 64 threads of one process answer as they do one by one.
// Built with -DDETENT_SANITIZE=thread it is what looks for data races.
#include <filesystem>
#include <set>
#include <thread>

#include "cli/reader.hpp"
#include "dsl/front.hpp"
#include "solver/forever.hpp"
#include "tests/support/catch.hpp"

namespace detent::test {
namespace {

namespace fs = std::filesystem;

std::vector<std::string> designs() {
  std::set<std::string> names;
  for (const auto& entry : fs::recursive_directory_iterator(DETENT_SOURCE_DIR "/specs")) {
    const std::string name = entry.path().string();
    if (name.ends_with(".detent") && name.find("/parts/") == std::string::npos) names.insert(name);
  }
  return {names.begin(), names.end()};
}

using Answers = std::vector<std::pair<std::string, solver::Outcome>>;

/// From the file to the verdicts.
Answers verdicts_of(const std::string& file) {
  const dsl::Compiled compiled = dsl::compile(file, cli::file_reader(file));
  if (!compiled.model) return {};
  solver::ForeverOptions options;
  options.timeout = std::chrono::minutes(10);
  options.jobs = 2;
  const solver::Report report = solver::check_forever(*compiled.model, options);
  Answers answers;
  for (const solver::Verdict& verdict : report.verdicts) {
    answers.emplace_back(compiled.model->claims[verdict.claim].name, verdict.outcome);
  }
  return answers;
}

}  // namespace

TEST_CASE("64 checks on 64 threads answer as they do one by one", "[robust][threads]") {
  constexpr std::size_t count = 64;
  const std::vector<std::string> files = designs();
  REQUIRE(files.size() > 30);
  std::vector<Answers> alone, together(count);
  for (std::size_t index = 0; index < std::min(count, files.size()); ++index)
    alone.push_back(verdicts_of(files[index]));
  std::vector<std::thread> threads;
  for (std::size_t index = 0; index < count; ++index) {
    threads.emplace_back([&, index] { together[index] = verdicts_of(files[index % files.size()]); });
  }
  for (std::thread& thread : threads) thread.join();
  for (std::size_t index = 0; index < count; ++index) {
    INFO(files[index % files.size()]);
    CHECK(!together[index].empty());
    CHECK(together[index] == alone[index % files.size()]);
  }
}

}  // namespace detent::test
