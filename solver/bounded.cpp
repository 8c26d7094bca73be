// The whole of a bounded check: look round by chance, search for the shortest runs, see whether there are
// runs at all, then the side findings, and the report.
#include "solver/bounded.hpp"

#include <algorithm>
#include <numeric>

#include "solver/contradiction.hpp"
#include "solver/explore.hpp"
#include "solver/limits.hpp"
#include "solver/memory_limit.hpp"
#include "solver/search.hpp"
#include "solver/side_findings.hpp"
#include "solver/tidy.hpp"

namespace detent::solver {
namespace {

using dsl::Claim;
using dsl::Model;

/// A claim's questions: the run that breaks or shows it, and one in which its premise comes true.
struct Inquiry {
  const Claim* claim = nullptr;
  std::uint32_t index = 0;
  std::size_t watch = 0;
  std::optional<std::size_t> premise = {};
};

class Check {
 public:
  Check(const Model& model, const BoundedOptions& options)
      : model_(&model),
        options_(&options),
        limits_(options.timeout, options.memory_mib, options.cancel),
        setting_(setting_of(model)) {
    report_.within = options.within;
  }

  Report run() {
    const MemoryLimit memory(options_->memory_mib);
    plan();
    const Sights sights = look_round();
    search(setting_, questions_, limits_, report_.statistics, reporter());
    if (longest_known_run(sights) < options_->within && limits_.reached() == Limit::none) {
      report_.no_run_of = shortest_impossible(setting_, options_->within, limits_, report_.statistics);
    }
    if (report_.no_run_of) {
      report_.contradicting = contradicting(*model_, *report_.no_run_of, limits_, report_.statistics);
    }
    for (const Inquiry& inquiry : inquiries_) report_.verdicts.push_back(verdict(inquiry));
    if (options_->side_findings && !report_.no_run_of) {
      find_aside(*model_, setting_, options_->within, sights, limits_, report_);
    }
    report_.statistics.seconds = limits_.seconds();
    return std::move(report_);
  }

 private:
  static Setting setting_of(const Model& model) {
    Setting setting{&model.circuit, {}};
    for (const dsl::Constraint& constraint : model.constraints)
      setting.constraints.push_back(constraint.node);
    return setting;
  }

  void plan() {
    std::vector<std::uint32_t> indices = options_->claims;
    if (indices.empty()) {
      indices.resize(model_->claims.size());
      std::iota(indices.begin(), indices.end(), 0U);
    }
    for (const std::uint32_t index : indices) {
      const Claim& claim = model_->claims[index];
      Inquiry inquiry{&claim, index, questions_.size(), {}};
      questions_.push_back({claim.watch, ticks_for(claim)});
      if (claim.premise != dsl::no_node && !claim.possible) {
        inquiry.premise = questions_.size();
        questions_.push_back({claim.premise, options_->within});
      }
      inquiries_.push_back(inquiry);
    }
  }

  [[nodiscard]] Value ticks_for(const Claim& claim) const {
    return claim.possible && claim.within ? std::min(*claim.within + 1, options_->within) : options_->within;
  }

  Sights look_round() {
    std::vector<NodeId> nodes;
    for (const Question& question : questions_) nodes.push_back(question.node);
    Sights sights = explore(setting_, nodes, options_->within, limits_);
    for (std::size_t index = 0; index < questions_.size(); ++index) {
      std::optional<Run>& run = sights.runs[index];
      if (run && static_cast<Value>(run->ticks()) <= questions_[index].ticks) {
        questions_[index].run = std::move(run);
      }
    }
    for (const Inquiry& inquiry : inquiries_) {
      if (inquiry.premise && questions_[*inquiry.premise].run)
        questions_[*inquiry.premise].ticks = 0;  // it can
    }
    return sights;
  }

  [[nodiscard]] SearchProgress reporter() const {
    if (!options_->progress) return {};
    return [this](Value ticks, std::size_t open) { options_->progress({ticks, options_->within, open}); };
  }

  [[nodiscard]] Value longest_known_run(const Sights& sights) const {
    if (setting_.constraints.empty()) return options_->within;
    Value longest = sights.longest_run;
    for (const Question& question : questions_) {
      if (question.run) longest = std::max(longest, static_cast<Value>(question.run->ticks()));
    }
    return longest;
  }

  Verdict verdict(const Inquiry& inquiry) {
    const Question& question = questions_[inquiry.watch];
    Verdict verdict{.claim = inquiry.index};
    verdict.ticks = std::min(question.absent, question.ticks);
    if (question.run) {
      verdict.outcome = inquiry.claim->possible ? Outcome::shown : Outcome::refuted;
      verdict.run = tidied(setting_, question.node, *question.run);
      if (question.is_shortest()) {
        verdict.ticks = static_cast<Value>(question.run->ticks());
      } else {
        verdict.limit = question.limit;
      }
    } else if (!question.is_settled()) {
      verdict.limit = question.limit;
    } else if (report_.no_run_of) {
      verdict.ticks = std::min(verdict.ticks, *report_.no_run_of - 1);
    } else {
      settle_absent(inquiry, verdict);
    }
    return verdict;
  }

  /// No run of the ticks looked at makes it true.
  void settle_absent(const Inquiry& inquiry, Verdict& verdict) const {
    const Claim& claim = *inquiry.claim;
    if (!claim.possible) {
      verdict.outcome = Outcome::holds_up_to;
      if (inquiry.premise) {
        const Question& premise = questions_[*inquiry.premise];
        verdict.vacuous = !premise.run && premise.is_settled();
      }
    } else if (claim.within && *claim.within < options_->within) {
      verdict.outcome = Outcome::refuted;
    } else {
      verdict.limit = Limit::ticks;
    }
  }

  const Model* model_;
  const BoundedOptions* options_;
  Limits limits_;
  Setting setting_;
  std::vector<Inquiry> inquiries_;
  std::vector<Question> questions_;
  Report report_;
};

}  // namespace

Report check_bounded(const Model& model, const BoundedOptions& options) {
  return Check(model, options).run();
}

}  // namespace detent::solver
