#include "cli/evidence.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <fstream>
#include <system_error>

#include "cli/evidence_folder.hpp"
#include "cli/evidence_index.hpp"
#include "cli/json_run.hpp"
#include "cli/run_json.hpp"
#include "cli/vcd.hpp"
#include "solver/smtlib.hpp"

namespace detent::cli {
namespace {

namespace fs = std::filesystem;

std::string title_of(const CheckResult& result, const dsl::Claim& claim) {
  return fmt::format("{}: {}\n{}\n{}", result.compiled.sources.name(0), claim.name,
                     claim.doc.empty() ? claim.text : claim.doc, claim.text);
}

CommandResult cannot_write(const std::string& folder) {
  return usage_error(fmt::format("--evidence: can't write to the folder '{}'", folder),
                     "name a folder that can be made or written to, on a disk with room");
}

class Writer {
 public:
  Writer(const std::string& folder, const CheckResult& result) : folder_(folder), result_(result) {}

  bool write() {
    if (!folder_.open()) return false;
    Json claims = Json::array();
    for (const solver::Verdict& verdict : result_.report->verdicts) {
      Json entry{{"claim", model().claims[verdict.claim].name}};
      if (!write_verdict(verdict, entry)) return false;
      claims.push_back(std::move(entry));
    }
    const Json index{{"file", result_.compiled.sources.name(0)},
                     {"claims", std::move(claims)},
                     {digests_member, folder_.digests()}};
    return folder_.finish(index.dump(2, ' ', false, Json::error_handler_t::replace) + "\n");
  }

 private:
  [[nodiscard]] const dsl::Model& model() const { return *result_.compiled.model; }

  bool write_verdict(const solver::Verdict& verdict, Json& entry) {
    const dsl::Claim& claim = model().claims[verdict.claim];
    const bool holds = verdict.outcome == solver::Outcome::proved ||
                       verdict.outcome == solver::Outcome::shown ||
                       verdict.outcome == solver::Outcome::holds_up_to;
    const bool open = verdict.outcome == solver::Outcome::undecided;
    entry["verdict"] = open ? "undecided" : holds ? "holds" : "refuted";
    if (verdict.outcome == solver::Outcome::holds_up_to) entry["up_to_ticks"] = verdict.ticks;
    entry["proof"] = Json::array();
    entry["run"] = Json::array();
    if (verdict.proof) {
      const solver::ProofText text = solver::proof_text(model(), *verdict.proof, title_of(result_, claim));
      return add(entry["proof"], claim.name + ".start.smt2", text.start) &&
             add(entry["proof"], claim.name + ".step.smt2", text.step) &&
             add(entry["proof"], claim.name + ".claim.smt2", text.claim);
    }
    if (verdict.run && verdict.run->ticks() > 0) {
      Json run = json_run(model(), *verdict.run);
      run[tick_member] = model().tick_us;
      return add(entry["run"], claim.name + ".run.json", run.dump(2) + "\n") &&
             add(entry["run"], claim.name + ".run.vcd", vcd_text(model(), *verdict.run));
    }
    return true;
  }

  bool add(Json& list, const std::string& name, const std::string& text) {
    list.push_back(name);
    return folder_.write(name, text);
  }

  EvidenceFolder folder_;
  const CheckResult& result_;
};

}  // namespace

std::optional<CommandResult> try_evidence_folder(const std::string& folder) {
  std::error_code problem;
  const fs::path path(folder);
  if (fs::exists(path, problem) && !fs::is_directory(path, problem)) {
    return usage_error(fmt::format("--evidence: '{}' is not a folder", folder),
                       "name a folder; it is made if it is missing");
  }
  fs::create_directories(path, problem);
  if (problem) {
    return usage_error(
        fmt::format("--evidence: the folder '{}' can't be made: {}", folder, problem.message()),
        "name a folder that can be made or written to");
  }
  const fs::path trial = path / "trial.part";
  std::ofstream file(trial, std::ios::binary | std::ios::trunc);
  file << "detent tries whether it may write here\n";
  file.close();
  const bool written = !file.fail();
  fs::remove(trial, problem);
  if (written) return std::nullopt;
  return cannot_write(folder);
}

std::optional<CommandResult> write_evidence(const std::string& folder, const CheckResult& result) {
  if (!result.report || result.report->no_run_of || Writer(folder, result).write()) return std::nullopt;
  return cannot_write(folder);
}

}  // namespace detent::cli
