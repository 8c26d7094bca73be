#include "cli/lesson_judge.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "cli/compare_plan.hpp"
#include "cli/interrupt.hpp"
#include "cli/progress.hpp"
#include "solver/bounded.hpp"
#include "solver/forever.hpp"

namespace detent::cli {
namespace {

using solver::Outcome;

std::optional<std::uint32_t> claim_index(const dsl::Model& model, const std::string& name) {
  for (std::size_t index = 0; index < model.claims.size(); ++index) {
    if (model.claims[index].name == name) return static_cast<std::uint32_t>(index);
  }
  return std::nullopt;
}

std::vector<std::uint32_t> indices_of(const dsl::Model& model, const std::vector<std::string>& names) {
  std::vector<std::uint32_t> indices;
  for (const std::string& name : names) {
    const auto index = claim_index(model, name);
    if (!index) throw std::runtime_error("a lesson names a claim that its design has not: " + name);
    indices.push_back(*index);
  }
  std::sort(indices.begin(), indices.end());
  return indices;
}

solver::Report report_of(const dsl::Model& model, const CheckResult& result,
                         const std::vector<std::uint32_t>& claims, const Settings& settings) {
  const Interrupt interrupt;
  ProgressLine line;
  if (result.bound) {
    return solver::check_bounded(
        model, {.within = result.bound->ticks,
                .claims = claims,
                .timeout = settings.timeout,
                .memory_mib = settings.memory_mib,
                .cancel = interrupt.flag(),
                .progress = [&line](const solver::Progress& progress) { line.show(progress); }});
  }
  return solver::check_forever(model, {.claims = claims,
                                       .timeout = settings.timeout.value_or(usual_patience),
                                       .memory_mib = settings.memory_mib,
                                       .cancel = interrupt.flag(),
                                       .progress = [&line](std::size_t open) { line.show(open); },
                                       .jobs = settings.jobs});
}

std::string key_of(const LessonCheck& check) {
  return fmt::format("{}|{}|{}", check.design, fmt::join(check.claims, " "), check.within.value_or(""));
}

bool fits(const solver::Verdict& verdict, LessonMeaning::Answer answer) {
  using Answer = LessonMeaning::Answer;
  switch (answer) {
    case Answer::proved:
      return verdict.outcome == Outcome::proved && !verdict.vacuous;
    case Answer::says_nothing:
      return verdict.outcome == Outcome::proved && verdict.vacuous;
    case Answer::refuted:
      return verdict.outcome == Outcome::refuted && verdict.run.has_value();
    case Answer::impossible:
      return verdict.outcome == Outcome::refuted && !verdict.run.has_value();
    case Answer::possible:
      return verdict.outcome == Outcome::shown;
    case Answer::same:
    case Answer::differs:
      break;
  }
  return false;
}

/// Of one step: the claims that it names, with the design.
std::vector<std::pair<std::string, std::string>> named_claims(const LessonStep& step) {
  std::vector<std::pair<std::string, std::string>> named;
  if (const auto* check = std::get_if<LessonCheck>(&step)) {
    for (const std::string& claim : check->claims) named.emplace_back(check->design, claim);
  } else if (const auto* question = std::get_if<LessonQuestion>(&step)) {
    for (const LessonChoice& choice : question->choices) {
      for (const LessonMeaning& one : choice.means) {
        if (!one.claim.empty()) named.emplace_back(question->designs.front(), one.claim);
      }
    }
  }
  return named;
}

std::optional<LessonProblem> objection_to_claims(const Lesson& lesson,
                                                 const std::map<std::string, dsl::Model>& models) {
  for (const LessonStep& step : lesson.steps) {
    for (const auto& [design, claim] : named_claims(step)) {
      if (claim_index(models.at(design), claim)) continue;
      return LessonProblem{1, fmt::format("the design '{}' has no claim '{}'", design, claim),
                           "name one of its claims"};
    }
    const auto* check = std::get_if<LessonCheck>(&step);
    if (check == nullptr || !check->within) continue;
    const auto bound = choose_bound(models.at(check->design), check->within);
    if (!bound.value) return LessonProblem{1, "within: " + bound.problem, bound.mend};
  }
  return std::nullopt;
}

}  // namespace

const CheckResult& LessonJudge::verdicts(const LessonCheck& check) {
  const auto [entry, is_new] = checked_.try_emplace(key_of(check));
  CheckResult& result = entry->second;
  if (!is_new) return result;
  result.file = check.design;
  result.compiled = dsl::compile_text(check.design, lesson_.design(check.design)->text);
  const dsl::Model& model = *result.compiled.model;
  if (check.within) {
    result.bound = choose_bound(model, check.within).value;
  } else {
    result.allowed = fmt::format("; up to {} for each claim", patience_words(settings_));
  }
  result.report = report_of(model, result, indices_of(model, check.claims), settings_);
  undecided_ = undecided_ || status_of(result) == Status::undecided;
  return result;
}

const CompareResult& LessonJudge::comparison(const std::string& a, const std::string& b) {
  const auto [entry, is_new] = compared_.try_emplace({a, b});
  CompareResult& result = entry->second;
  if (!is_new) return result;
  result.files = {a, b};
  result.compiled = {dsl::compile_text(a, lesson_.design(a)->text),
                     dsl::compile_text(b, lesson_.design(b)->text)};
  if (const auto problem = plan_comparison({}, result)) throw std::runtime_error(problem->errors);
  result.questions.figures = {};  // a lesson asks whether they part, not how hard each is to unlock
  result.allowed = patience_words(settings_);
  const Interrupt interrupt;
  ProgressLine line;
  result.comparison =
      solver::compare(result.model(dsl::side_a), result.model(dsl::side_b), *result.both, result.questions,
                      {.timeout = settings_.timeout.value_or(usual_patience),
                       .memory_mib = settings_.memory_mib,
                       .cancel = interrupt.flag(),
                       .progress = [&line](std::size_t open) { line.show(open); },
                       .jobs = settings_.jobs});
  undecided_ = undecided_ || is_undecided(result);
  return result;
}

bool LessonJudge::is(const LessonQuestion& question, const LessonMeaning& meaning) {
  if (question.designs.size() == 2) {
    const CompareResult& result = comparison(question.designs[0], question.designs[1]);
    const bool differs = is_different(result);
    if (!differs && is_undecided(result)) return false;
    return differs == (meaning.answer == LessonMeaning::Answer::differs);
  }
  const CheckResult& result = this->verdicts({question.designs.front(), {}, {}});
  const auto index = claim_index(*result.compiled.model, meaning.claim);
  const std::vector<solver::Verdict>& verdicts =
      result.report->verdicts;  // none where assumptions contradict
  return index && *index < verdicts.size() && fits(verdicts[*index], meaning.answer);
}

std::optional<std::size_t> LessonJudge::choice(const LessonQuestion& question) {
  for (std::size_t index = 0; index < question.choices.size(); ++index) {
    const std::vector<LessonMeaning>& means = question.choices[index].means;
    if (std::all_of(means.begin(), means.end(), [&](const LessonMeaning& one) { return is(question, one); }))
      return index;
  }
  return std::nullopt;
}

std::optional<LessonProblem> lesson_objection(const Lesson& lesson) {
  std::map<std::string, dsl::Model> models;
  for (const LessonDesign& design : lesson.designs) {
    dsl::Compiled compiled = dsl::compile_text(design.name, design.text);
    if (!compiled.model) {
      const auto error =
          std::find_if(compiled.diagnostics.begin(), compiled.diagnostics.end(),
                       [](const dsl::Diagnostic& one) { return one.severity() == dsl::Severity::error; });
      return LessonProblem{1,
                           fmt::format("the design '{}' has a mistake in its line {}: {}", design.name,
                                       compiled.sources.line_column(error->place).line, error->message),
                           error->mend.empty() ? "mend it" : error->mend};
    }
    models.emplace(design.name, std::move(*compiled.model));
  }
  return objection_to_claims(lesson, models);
}

std::string lesson_file(const std::string& lesson, const std::string& design) {
  return fmt::format("{}_{}.detent", lesson, design);
}

}  // namespace detent::cli
