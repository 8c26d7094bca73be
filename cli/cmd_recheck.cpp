// A proof is three questions (solver/smtlib.hpp). They only make a proof together: all three must speak of
// the same invariant, and the two about steps of the same step. So those texts are compared first, letter by
// letter; then the solver must answer `unsat` three times.
#include "cli/cmd_recheck.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <vector>

#include "cli/child.hpp"
#include "cli/evidence.hpp"
#include "cli/page.hpp"
#include "cli/quantities.hpp"
#include "cli/words.hpp"
#include "solver/smtlib.hpp"

namespace detent::cli {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;

constexpr std::uintmax_t largest_file = 64U * 1024U * 1024U;

enum class Finding { good, wrong, open };

struct Checked {
  std::string claim;
  Finding finding = Finding::good;
  std::string words = {};
};

std::optional<std::string> file_text(const fs::path& path) {
  std::error_code problem;
  if (!fs::is_regular_file(path, problem) || fs::file_size(path, problem) > largest_file) return std::nullopt;
  std::ifstream file(path, std::ios::binary);
  if (!file) return std::nullopt;
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

std::optional<std::string> between(const std::string& text, const char* begin, const char* end) {
  const std::size_t first = text.find(begin);
  const std::size_t last = first == std::string::npos ? first : text.find(end, first);
  if (last == std::string::npos) return std::nullopt;
  return text.substr(first, last - first);
}

std::vector<std::string> split_words(const std::string& command) {
  std::istringstream stream(command);
  std::vector<std::string> words;
  for (std::string word; stream >> word;) words.push_back(word);
  return words;
}

class Recheck {
 public:
  Recheck(fs::path folder, std::vector<std::string> solver, std::chrono::milliseconds timeout)
      : folder_(std::move(folder)), solver_(std::move(solver)), timeout_(timeout) {}

  Checked check(const std::string& claim, const Json& files) {
    std::vector<std::string> names;
    std::vector<std::string> texts;
    for (const Json& file : files) {
      names.push_back(file.is_string() ? file.get<std::string>() : "");
      const bool inside = !names.back().empty() && names.back().find('/') == std::string::npos;
      const auto text = inside ? file_text(folder_ / names.back()) : std::nullopt;
      if (!text) return {claim, Finding::wrong, fmt::format("the file '{}' is missing", names.back())};
      texts.push_back(*text);
    }
    if (texts.size() != 3) return {claim, Finding::wrong, "a proof has three questions"};
    if (auto problem = differing(texts)) return {claim, Finding::wrong, *problem};
    for (const std::string& name : names) {
      const Checked answer = ask(claim, name);
      if (answer.finding != Finding::good) return answer;
    }
    return {claim, Finding::good, "three times unsat: the proof is right"};
  }

  [[nodiscard]] bool solver_started() const { return started_; }

 private:
  static std::optional<std::string> differing(const std::vector<std::string>& texts) {
    const auto invariant = between(texts[0], solver::invariant_begins, solver::invariant_ends);
    for (const std::string& text : texts) {
      if (!invariant || between(text, solver::invariant_begins, solver::invariant_ends) != invariant) {
        return "its questions do not speak of the same invariant";
      }
    }
    const auto step = between(texts[1], solver::step_begins, solver::step_ends);
    if (!step || between(texts[2], solver::step_begins, solver::step_ends) != step) {
      return "its questions do not speak of the same step";
    }
    return std::nullopt;
  }

  Checked ask(const std::string& claim, const std::string& name) {
    std::vector<std::string> words = solver_;
    words.push_back((folder_ / name).string());
    const ChildAnswer answer = run_child(words, timeout_);
    started_ = started_ && answer.started;
    const std::string first = answer.output.substr(0, answer.output.find_first_of("\r\n"));
    if (!answer.in_time) return {claim, Finding::open, fmt::format("{}: the solver took too long", name)};
    const bool one_word = answer.output.find_first_not_of(" \r\n", first.size()) == std::string::npos;
    if (first == "unsat" && one_word && answer.status == 0) return {claim, Finding::good};
    if (first == "sat") return {claim, Finding::wrong, fmt::format("{}: the solver answers sat", name)};
    return {claim, Finding::open,
            fmt::format("{}: the solver answers '{}'", name, printable(first.substr(0, 60), false))};
  }

  fs::path folder_;
  std::vector<std::string> solver_;
  std::chrono::milliseconds timeout_;
  bool started_ = true;
};

std::string page(const std::vector<Checked>& all, Status& status) {
  std::string text;
  std::size_t good = 0;
  status = Status::all_hold;
  for (const Checked& checked : all) {
    const bool wrong = checked.finding == Finding::wrong;
    good += checked.finding == Finding::good ? 1U : 0U;
    text += fmt::format("{}  {}: {}\n",
                        checked.finding == Finding::good ? "good "
                        : wrong                          ? "WRONG"
                                                         : "open ",
                        printable(checked.claim, false), checked.words);
    if (wrong) status = Status::refuted;
    if (checked.finding == Finding::open && status == Status::all_hold) status = Status::undecided;
  }
  return text + fmt::format("{} of {} proofs confirmed\n", good, all.size());
}

}  // namespace

CommandResult recheck(const RecheckOptions& options) {
  const std::vector<std::string> solver = split_words(options.solver);
  if (solver.empty())
    return usage_error("recheck: no solver is named", "write for example --solver cvc5, or --solver z3");
  Reading<std::chrono::milliseconds> timeout{.value = std::chrono::minutes(1)};
  if (options.timeout) timeout = read_time(*options.timeout);
  if (!timeout.value) return usage_error("--timeout: " + timeout.problem, timeout.mend);
  const auto index = file_text(fs::path(options.folder) / evidence_index);
  const Json json = index ? Json::parse(*index, nullptr, false) : Json();
  if (!json.is_object() || !json.contains("claims") || !json["claims"].is_array()) {
    return usage_error(
        fmt::format("recheck: '{}' holds no finished evidence", printable(options.folder, false)),
        "make it with: detent check FILE --evidence FOLDER");
  }
  Recheck run(options.folder, solver, *timeout.value);
  std::vector<Checked> all;
  for (const Json& claim : json["claims"]) {
    if (!claim.is_object() || !claim.contains("proof") || !claim["proof"].is_array() ||
        claim["proof"].empty())
      continue;
    all.push_back(run.check(claim.value("claim", "?"), claim["proof"]));
    if (!run.solver_started()) {
      return usage_error(
          fmt::format("recheck: the solver '{}' can't be started", printable(solver[0], false)),
          "name a program that is installed, such as cvc5 or z3");
    }
  }
  if (all.empty()) {
    return {.output = "this folder holds no proof for all time, so there is nothing to confirm\n",
            .status = Status::undecided};
  }
  CommandResult result;
  result.output = page(all, result.status);
  return result;
}

}  // namespace detent::cli
