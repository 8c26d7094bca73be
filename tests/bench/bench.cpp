// Prints the tables of tests/bench/README.md. Times are wall times of whole processes, the median of several;
// what counts are their ratios, taken in one run on one machine.
#include <fmt/format.h>
#include <sys/resource.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "cli/child.hpp"
#include "dsl/front.hpp"
#include "tests/bench/designs.hpp"
#include "tests/bench/tick_questions.hpp"

namespace {

using namespace detent;
using Clock = std::chrono::steady_clock;
constexpr std::chrono::seconds limit{60};

const std::filesystem::path& folder() {
  static const std::filesystem::path path = [] {
    auto made = std::filesystem::temp_directory_path() /
                fmt::format("detent-bench-{}", Clock::now().time_since_epoch().count());
    std::filesystem::create_directories(made);
    return made;
  }();
  return path;
}

std::string saved(const std::string& name, const std::string& text) {
  const std::string path = (folder() / name).string();
  std::ofstream(path) << text;
  return path;
}

struct Timing {
  double seconds = 0;
  bool in_time = true;
  std::string answer = {};
};

Timing time_once(const std::vector<std::string>& words) {
  const auto begin = Clock::now();
  const cli::ChildAnswer answer = cli::run_child(words, limit);
  Timing timing{.seconds = std::chrono::duration<double>(Clock::now() - begin).count(),
                .in_time = answer.in_time};
  timing.answer = answer.output.substr(0, answer.output.find('\n'));
  if (!answer.started) timing.answer = "can't be started";
  return timing;
}

Timing time_of(const std::vector<std::string>& words, int times) {
  std::vector<Timing> timings;
  for (int count = 0; count < times; ++count) {
    timings.push_back(time_once(words));
    if (!timings.back().in_time) return timings.back();
  }
  std::sort(timings.begin(), timings.end(),
            [](const Timing& one, const Timing& other) { return one.seconds < other.seconds; });
  return timings[timings.size() / 2];
}

std::vector<std::string> check(const std::string& path) {
  return {DETENT_PROGRAM, "check", path, "--jobs", "2"};
}

std::string said(const Timing& timing) {
  return timing.in_time ? fmt::format("{:.3f} s ({})", timing.seconds, timing.answer)
                        : std::string("over 60 s");
}

void windows() {
  fmt::print(
      "## The flagship, all claims for all time, by the length of its window\n\n| window, ticks | time | ÷ "
      "one check |\n| --- | --- | --- |\n");
  const double one = time_of({ONE_CHECK_PROGRAM}, 11).seconds;
  double least = 1e9, most = 0;
  for (const long ticks : {80L, 800L, 8'000L, 80'000L}) {
    const Timing timing =
        time_of(check(saved(fmt::format("window{}.detent", ticks), bench::flagship(ticks))), 11);
    least = std::min(least, timing.seconds);
    most = std::max(most, timing.seconds);
    fmt::print("| {} | {:.3f} s | {:.1f} |\n", ticks, timing.seconds, timing.seconds / one);
  }
  fmt::print(
      "\nLargest ÷ smallest: {:.2f}. An empty program linked with Z3 that makes one check: {:.3f} s.\n\n",
      most / least, one);
}

void others() {
  fmt::print(
      "## The same claims, given to others tick by tick (60 s each)\n\n"
      "One claim each: `window_is_no_longer`. Unrolled to twice the window.\n\n"
      "| window, ticks | detent | Horn clauses, z3 | ÷ | unrolled, z3 | ÷ | unrolled, cvc5 | ÷ |\n| --- | "
      "--- | --- | --- | --- | --- | --- | --- |\n");
  for (const long ticks : {80L, 800L, 8'000L}) {
    const std::string text = bench::flagship(ticks);
    const dsl::Compiled compiled = dsl::compile_text("flagship.detent", text);
    const auto& claims = compiled.model->claims;
    const auto claim = std::find_if(claims.begin(), claims.end(),
                                    [](const dsl::Claim& one) { return one.name == "window_is_no_longer"; });
    auto words = check(saved("one.detent", text));
    words.insert(words.end(), {"--claim", claim->name});
    const Timing ours = time_of(words, 5);
    const std::string horn = saved("horn.smt2", bench::horn_question(*compiled.model, *claim));
    const std::string unrolled =
        saved("unrolled.smt2", bench::unrolled_question(*compiled.model, *claim, 2 * ticks));
    std::string row = fmt::format("| {} | {:.3f} s |", ticks, ours.seconds);
    for (const auto& other :
         std::vector<std::vector<std::string>>{{"z3", horn}, {"z3", unrolled}, {"cvc5", unrolled}}) {
      const Timing theirs = time_once(other);
      row += fmt::format(" {} | {}{:.0f} |", said(theirs), theirs.in_time ? "" : "> ",
                         theirs.seconds / ours.seconds);
    }
    fmt::print("{}\n", row);
    std::fflush(stdout);
  }
  fmt::print("\n");
}

void sizes() {
  fmt::print(
      "## Designs of units (ten elements each)\n\n| elements | claims | time | largest memory of any process "
      "so far |\n| --- | --- | --- | --- |\n");
  const std::pair<int, int> all[] = {{10, 1}, {100, 10}, {1000, 100}};
  for (const auto& [elements, claims] : all) {
    const Timing timing = time_of(check(saved("units.detent", bench::many_units(elements, claims))), 3);
    rusage usage{};
    getrusage(RUSAGE_CHILDREN, &usage);
    fmt::print("| {} | {} | {:.2f} s | {} MiB |\n", elements, claims, timing.seconds, usage.ru_maxrss / 1024);
  }
  const Timing chain = time_of(check(saved("chain.detent", bench::window_chain(8))), 3);
  fmt::print("\nShortest violation of a chain of 8 windows: {:.2f} s.\n\n", chain.seconds);
}

}  // namespace

int main() {
  sizes();  // first: its memory figure is the largest of all processes before it
  windows();
  others();
  std::filesystem::remove_all(folder());
}
