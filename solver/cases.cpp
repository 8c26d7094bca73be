// From cheap to dear, for each claim of each case: has the same circuit been decided before; does chance
// break it on the interpreter (where no run is wanted); what does the engine say.
//
// A fault touches a part of the design, and most claims look at another: of their circuits the slices are the
// same, node by node, as in the case before, and so is the verdict. That needs no argument about the fault.
#include "solver/cases.hpp"

#include <algorithm>
#include <exception>
#include <mutex>
#include <string>
#include <thread>
#include <utility>

#include "solver/forever.hpp"
#include "solver/limits.hpp"
#include "solver/machine.hpp"
#include "solver/memory_limit.hpp"
#include "solver/samples.hpp"

namespace detent::solver {
namespace {

class Cases {
 public:
  Cases(std::size_t count, const std::function<Case(std::size_t)>& make, const CaseOptions& options,
        Memo& memo)
      : make_(make), options_(options), memo_(memo) {
    report_.answers.resize(count);
  }

  CasesReport run() {
    const MemoryLimit memory(options_.memory_mib);
    const Limits clock({}, {}, nullptr);
    const std::size_t count = std::min<std::size_t>(std::max(1U, options_.jobs), report_.answers.size());
    std::vector<std::jthread> threads;
    for (std::size_t thread = 1; thread < count; ++thread) {
      threads.emplace_back([this] { work(); });
    }
    work();
    for (std::jthread& thread : threads) {
      thread.join();
    }
    if (error_) {
      std::rethrow_exception(error_);
    }
    report_.seconds = clock.seconds();
    return std::move(report_);
  }

 private:
  struct Open {
    std::uint32_t claim = 0;
    std::size_t place = 0;  ///< in the case's list
    std::string key;
  };

  [[nodiscard]] bool stopped() const { return options_.cancel.requested(); }

  void work() {
    while (const auto index = take()) {
      try {
        CaseAnswer answer = answer_case(make_(*index));
        const std::lock_guard lock(mutex_);
        report_.answers[*index] = std::move(answer);
        ++done_;
        if (options_.progress) {
          options_.progress(done_);
        }
      } catch (...) {
        const std::lock_guard lock(mutex_);
        error_ = std::current_exception();
      }
    }
  }

  std::optional<std::size_t> take() {
    const std::lock_guard lock(mutex_);
    return next_ < report_.answers.size() && !error_ && !stopped() ? std::optional(next_++) : std::nullopt;
  }

  CaseAnswer answer_case(const Case& one) {
    CaseAnswer answer{.looked_at = true};
    std::vector<Open> open;
    for (const std::uint32_t claim : one.claims) {
      std::string key = key_of(one.model, claim);
      if (const auto known = memo_.find(key)) {
        answer.verdicts.push_back(*known);
        answer.verdicts.back().claim = claim;
      } else {
        answer.verdicts.push_back({.claim = claim});
        open.push_back({claim, answer.verdicts.size() - 1, std::move(key)});
      }
    }
    count(&CasesReport::known, one.claims.size() - open.size());
    if (!options_.wants_runs) {
      try_chance(one.model, open, answer);
    }
    if (!open.empty()) {
      ask_engine(one.model, open, answer);
    }
    return answer;
  }

  void count(std::size_t CasesReport::*what, std::size_t more) {
    const std::lock_guard lock(mutex_);
    report_.*what += more;
  }

  void settle(const Open& one, Verdict verdict, CaseAnswer& answer) {
    verdict.proof.reset();  // it speaks of nodes of a model that is gone
    memo_.keep(one.key, verdict);
    answer.verdicts[one.place] = std::move(verdict);
  }

  // What a random run shows is so. A deadline is left to the engine.
  void try_chance(const dsl::Model& model, std::vector<Open>& open, CaseAnswer& answer) {
    std::vector<NodeId> conditions;
    for (const Open& one : open) {
      conditions.push_back(model.claims[one.claim].watch);
    }
    const Slice slice = slice_for(model, conditions);
    const Machine machine = machine_of(slice, model, conditions);
    std::vector<NodeId> nodes;
    for (const NodeId condition : conditions) {
      nodes.push_back(slice.node_of[condition]);
    }
    const Samples samples = sample(machine, nodes, {});
    std::vector<Open> left;
    for (std::size_t index = 0; index < open.size(); ++index) {
      const dsl::Claim& claim = model.claims[open[index].claim];
      if (!samples.seen[index] || claim.within) {
        left.push_back(std::move(open[index]));
        continue;
      }
      const Outcome outcome = claim.possible ? Outcome::shown : Outcome::refuted;
      settle(open[index], {.claim = open[index].claim, .outcome = outcome}, answer);
    }
    count(&CasesReport::by_chance, open.size() - left.size());
    open = std::move(left);
  }

  void ask_engine(const dsl::Model& model, const std::vector<Open>& open, CaseAnswer& answer) {
    dsl::Model asked = model;
    std::vector<std::uint32_t> claims;
    for (const Open& one : open) {
      claims.push_back(one.claim);
      asked.claims[one.claim].premise = dsl::no_node;  // whether it says something is no question here
    }
    Report report = check_forever(asked, {.claims = claims,
                                          .timeout = options_.timeout,
                                          .memory_mib = options_.memory_mib,
                                          .cancel = options_.cancel,
                                          .side_findings = false});
    count(&CasesReport::asked, open.size());
    if (report.no_run_of) {
      answer.no_run_of = report.no_run_of;
      answer.verdicts.clear();
      return;
    }
    for (std::size_t index = 0; index < open.size(); ++index) {
      settle(open[index], std::move(report.verdicts[index]), answer);
    }
  }

  const std::function<Case(std::size_t)>& make_;
  const CaseOptions& options_;
  Memo& memo_;
  std::mutex mutex_;
  std::size_t next_ = 0;
  std::size_t done_ = 0;
  std::exception_ptr error_;
  CasesReport report_;
};

}  // namespace

CasesReport check_cases(std::size_t count, const std::function<Case(std::size_t)>& make,
                        const CaseOptions& options, Memo& memo) {
  return Cases(count, make, options, memo).run();
}

}  // namespace detent::solver
