// A proof is three questions (solver/smtlib.hpp). They only make a proof together, so their form is looked at
// first (cli/proof_form.hpp). Then the solver must answer `unsat` three times; and `sat` to whether a step
// can be taken at all, as from a step that contradicts itself everything would follow.
#include "cli/cmd_recheck.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <sstream>
#include <vector>

#include "cli/child.hpp"
#include "cli/evidence_index.hpp"
#include "cli/interrupt.hpp"
#include "cli/page.hpp"
#include "cli/proof_form.hpp"
#include "cli/quantities.hpp"
#include "cli/temporary_file.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;

enum class Finding { good, wrong, open };

struct Checked {
  std::string claim;
  Finding finding = Finding::good;
  std::string words = {};
};

std::vector<std::string> split_words(const std::string& command) {
  std::istringstream stream(command);
  std::vector<std::string> words;
  for (std::string word; stream >> word;) words.push_back(word);
  return words;
}

class Recheck {
 public:
  Recheck(fs::path folder, const Json& index, std::vector<std::string> solver,
          std::chrono::milliseconds timeout)
      : folder_(std::move(folder)), index_(index), solver_(std::move(solver)), timeout_(timeout) {}

  /// What the solver finds wrong says more than that a file is another one.
  Checked check(const std::string& claim, const Json& files) {
    Checked answer = check_proof(claim, files);
    if (answer.finding == Finding::wrong || !started_) return answer;
    const std::string objection = objection_to_files(folder_, index_, files);
    return objection.empty() ? answer : Checked{claim, Finding::wrong, objection};
  }

  /// What the index says of a claim that has no proof, where it says too much or its run is not there.
  [[nodiscard]] std::optional<Checked> check_without_proof(const Json& claim) const {
    const auto is_list = [&](const char* list) { return claim.contains(list) && claim[list].is_array(); };
    const bool holds = claim.contains("verdict") && claim["verdict"] == "holds";
    const bool run = is_list("run") && !claim["run"].empty();
    std::string objection;
    if (run) objection = objection_to_files(folder_, index_, claim["run"]);
    if (holds && !claim.contains("up_to_ticks") && !run)
      objection = "the index says that it holds, but names no proof and no run";
    if (objection.empty()) return std::nullopt;
    return Checked{claim["claim"].get<std::string>(), Finding::wrong, objection};
  }

  [[nodiscard]] bool solver_started() const { return started_; }
  [[nodiscard]] bool interrupted() const { return interrupt_.flag()->load(); }

 private:
  Checked check_proof(const std::string& claim, const Json& files) {
    if (files.size() != 3) return {claim, Finding::wrong, "a proof has three questions"};
    ProofTexts texts;
    std::array<std::string, 3> names;
    for (std::size_t which = 0; which < names.size(); ++which) {
      constexpr std::array<const char*, 3> endings{".start.smt2", ".step.smt2", ".claim.smt2"};
      names[which] = claim + endings[which];
      if (names[which].find('/') != std::string::npos || files[which] != names[which]) {
        return {claim, Finding::wrong, fmt::format("the index does not name its file '{}'", names[which])};
      }
      const auto text = evidence_file(folder_ / names[which]);
      if (!text) return {claim, Finding::wrong, fmt::format("the file '{}' is missing", names[which])};
      texts[which] = *text;
    }
    if (auto problem = objection_to_form(texts)) return {claim, Finding::wrong, *problem};
    for (const std::string& name : names) {
      const Checked answer = ask(claim, name, (folder_ / name).string(), "unsat");
      if (answer.finding != Finding::good) return answer;
    }
    return ask_first_step(claim, texts);
  }

  Checked ask_first_step(const std::string& claim, const ProofTexts& texts) {
    const TemporaryFile file("question", ".smt2", first_step_question(texts));
    if (!file.written()) return {claim, Finding::open, "no temporary file can be written"};
    const Checked answer = ask(claim, "whether a step can be taken at all", file.path(), "sat");
    if (answer.finding != Finding::good) return answer;
    return {claim, Finding::good, "three times unsat: the proof is right"};
  }

  Checked ask(const std::string& claim, const std::string& what, const std::string& path,
              const std::string& wanted) {
    std::vector<std::string> words = solver_;
    words.push_back(path);
    const ChildAnswer answer = run_child(words, timeout_, interrupt_.flag());
    started_ = started_ && answer.started;
    const std::string first = answer.output.substr(0, answer.output.find_first_of("\r\n"));
    if (interrupted()) return {claim, Finding::open, "you stopped it"};
    if (!answer.in_time) return {claim, Finding::open, fmt::format("{}: the solver took too long", what)};
    const bool one_word = answer.output.find_first_not_of(" \r\n", first.size()) == std::string::npos;
    if (first == wanted && one_word && answer.status == 0) return {claim, Finding::good};
    if (first == "sat" || (first == "unsat" && one_word)) {
      return {claim, Finding::wrong, fmt::format("{}: the solver answers {}", what, first)};
    }
    return {claim, Finding::open,
            fmt::format("{}: the solver answers '{}'", what, printable(first.substr(0, 60), false))};
  }

  fs::path folder_;
  const Json& index_;
  std::vector<std::string> solver_;
  std::chrono::milliseconds timeout_;
  bool started_ = true;
  Interrupt interrupt_;
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
  const Json json = read_index(fs::path(options.folder) / evidence_index);
  if (json.is_null()) {
    return usage_error(
        fmt::format("recheck: '{}' holds no finished evidence", printable(options.folder, false)),
        "make it with: detent check FILE --evidence FOLDER");
  }
  Recheck run(options.folder, json, solver, *timeout.value);
  std::vector<Checked> all;
  for (const Json& claim : json["claims"]) {
    if (!claim.is_object() || !claim.contains("claim") || !claim["claim"].is_string()) continue;
    if (!claim.contains("proof") || !claim["proof"].is_array() || claim["proof"].empty()) {
      if (auto problem = run.check_without_proof(claim)) all.push_back(std::move(*problem));
      continue;
    }
    all.push_back(run.check(claim["claim"].get<std::string>(), claim["proof"]));
    if (run.interrupted()) break;
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
