// All texts are read before any is checked, so that a mistake in the options costs nothing.
#include "cli/shard/check_many.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <set>
#include <utility>
#include <vector>

#include "cli/cmd_check.hpp"
#include "cli/shard/check_part.hpp"
#include "cli/shard/options_json.hpp"
#include "cli/shard/recorded.hpp"
#include "cli/shard/shard_file.hpp"
#include "cli/stop.hpp"

namespace detent::cli {
namespace {

using Problem = std::optional<CommandResult>;

CommandResult one_at_a_time(const char* option) {
  return usage_error(fmt::format("{} takes one design at a time", option),
                     "name one design, or leave it out");
}

/// "--within 20 s" without quotes leaves an s over.
Problem stray_word(const std::string& name, const Recording& files) {
  const bool word = std::all_of(name.begin(), name.end(),
                                [](char one) { return std::isalnum(static_cast<unsigned char>(one)) != 0; });
  const auto found = files.find(name);
  const bool missing = found != files.end() && found->second.problem == "does not exist";
  if (!word || !missing) return std::nullopt;
  return usage_error(fmt::format("'{}' is one word too many: there is no such file", name),
                     "a value with a blank needs quotes, as in --within \"20 s\"");
}

Problem try_options(const CheckOptions& options) {
  const bool many = options.files.size() > 1;
  if (options.evidence && many) return one_at_a_time("--evidence");
  if (options.run && many) return one_at_a_time("--run");
  if (options.explain && many) return one_at_a_time("--explain");
  if (!options.claims.empty() && many) return one_at_a_time("--claim");
  std::set<std::string> seen;
  for (const std::string& file : options.files) {
    if (!seen.insert(file).second) {
      return usage_error(fmt::format("'{}' is named twice", file), "name each design once");
    }
  }
  if (!options.shard) return std::nullopt;
  if (options.evidence || options.run || options.explain) {
    return usage_error("--evidence, --run and --explain don't go together with --shard",
                       "leave out --shard: they are about one design");
  }
  if (options.format == "sarif" || options.format == "junit") {
    return usage_error(
        fmt::format("a shard is for detent merge, and never {}", options.format),
        fmt::format("leave out --format here, and write it at merge: --format {}", options.format));
  }
  if (options.all_signals) return page_only("--all-signals");
  if (options.statistics) return page_only("--statistics");
  return std::nullopt;
}

CheckOptions only(const CheckOptions& options, const std::string& file) {
  CheckOptions one = options;
  one.file = file;
  return one;
}

/// A design, and what was read for it.
struct Text {
  CheckResult result;
  Recording files;
};

std::variant<std::vector<Text>, CommandResult> read_all(const CheckOptions& options,
                                                        const Settings& settings) {
  std::vector<Text> texts;
  for (const std::string& file : options.files) {
    Recording files;
    dsl::Compiled compiled = compile_recorded(file, files);
    if (texts.size() > 0) {
      if (Problem problem = stray_word(file, files)) return std::move(*problem);
    }
    texts.push_back({{.file = file, .compiled = std::move(compiled)}, std::move(files)});
  }
  for (Text& text : texts) {
    if (Problem problem = plan_check(only(options, text.result.file), settings, text.result)) {
      return std::move(*problem);
    }
  }
  return texts;
}

/// Those of this shard; the others stay without a result.
std::variant<Checks, CommandResult> check_those_of(const Shard& shard, const CheckOptions& options,
                                                   Settings settings, std::vector<Text>& texts) {
  const Stop stop(settings);
  settings.cancel = stop.flag();
  Checks checks(texts.size());
  for (std::size_t index = 0; index < texts.size(); ++index) {
    if (!shard.has(index)) continue;
    CheckResult& text = texts[index].result;
    auto done = checked(only(options, text.file), std::move(text.compiled), settings);
    if (auto* problem = std::get_if<CommandResult>(&done)) return std::move(*problem);
    checks[index] = std::move(std::get<CheckResult>(done));
  }
  return checks;
}

/// Where the assumptions leave no run, nothing is left open: no claim means anything.
bool any_undecided(const solver::Report& report) {
  return !report.no_run_of &&
         std::any_of(report.verdicts.begin(), report.verdicts.end(),
                     [](const solver::Verdict& one) { return one.outcome == solver::Outcome::undecided; });
}

/// The texts of this shard's designs go with it; of all others only the digest, so that every shard has the
/// same.
CommandResult as_shard(const CheckOptions& options, const Shard& shard, const std::vector<Text>& texts,
                       const Checks& checks) {
  ShardFile file{.command = "check",
                 .shard = shard,
                 .options = json_options(options),
                 .files = {},
                 .digest = {},
                 .part = checks_part(checks)};
  Recording all;
  for (std::size_t index = 0; index < texts.size(); ++index) {
    all.insert(texts[index].files.begin(), texts[index].files.end());
    if (shard.has(index)) file.files.insert(texts[index].files.begin(), texts[index].files.end());
  }
  file.digest = digest_of(all);
  const bool decided = std::none_of(checks.begin(), checks.end(), [](const auto& one) {
    return one && one->report && any_undecided(*one->report);
  });
  return shard_result(std::move(file), decided);
}

}  // namespace

CommandResult check_many(const CheckOptions& options, const Settings& settings) {
  Shard shard;
  if (options.shard) {
    const auto read = read_shard(*options.shard);
    if (!read.value) return bad_option("--shard", read);
    shard = *read.value;
  }
  if (Problem problem = try_options(options)) return std::move(*problem);
  auto read = read_all(options, settings);
  if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
  std::vector<Text>& texts = std::get<std::vector<Text>>(read);
  auto done = check_those_of(shard, options, settings, texts);
  if (auto* problem = std::get_if<CommandResult>(&done)) return std::move(*problem);
  const Checks& checks = std::get<Checks>(done);
  if (options.shard) return as_shard(options, shard, texts, checks);
  return checks_answer(options, settings, checks);
}

}  // namespace detent::cli
