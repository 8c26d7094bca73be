// Every lesson against the machine: its hole is a hole, its mend is proved for all time (and two other
// solvers confirm it), exactly one choice of each question fits, and the question stands before the answer.
//
// Checked: the mended design of each lesson, as three questions for each proof to two other solvers |
// SMT-LIB 2.6 | the format read
#include <algorithm>
#include <filesystem>

#include "cli/lesson_judge.hpp"
#include "cli/lesson_shelf.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/other_solvers.hpp"
#include "tests/support/shipped.hpp"

using namespace detent;
using namespace detent::test;
using solver::Outcome;

namespace {

const cli::Settings settings{.timeout = std::chrono::seconds(60), .jobs = 2};

cli::Lesson lesson_of(const cli::ShelvedLesson& shelved) {
  auto read = cli::read_lesson(shelved.text);
  if (const auto* problem = std::get_if<cli::LessonProblem>(&read))
    FAIL(shelved.name << ": " << problem->what);
  return std::get<cli::Lesson>(std::move(read));
}

template <class Step>
std::vector<Step> steps_of(const cli::Lesson& lesson) {
  std::vector<Step> steps;
  for (const cli::LessonStep& step : lesson.steps) {
    if (const auto* one = std::get_if<Step>(&step)) steps.push_back(*one);
  }
  return steps;
}

bool falls_or_says_nothing(const solver::Verdict& verdict) {
  return verdict.outcome == Outcome::refuted || verdict.vacuous;
}

bool asks_the_machine(const cli::LessonQuestion& question) {
  return !question.choices.empty();
}

/// Whether a step shows what the question asks for.
bool gives_away(const cli::LessonStep& step, const cli::LessonQuestion& question) {
  if (const auto* both = std::get_if<cli::LessonComparison>(&step))
    return question.designs == std::vector{both->a, both->b};
  const auto* check = std::get_if<cli::LessonCheck>(&step);
  if (check == nullptr || check->within || question.designs != std::vector{check->design}) return false;
  if (check->claims.empty()) return true;
  for (const cli::LessonChoice& choice : question.choices) {
    for (const cli::LessonMeaning& one : choice.means) {
      if (std::find(check->claims.begin(), check->claims.end(), one.claim) != check->claims.end())
        return true;
    }
  }
  return false;
}

}  // namespace

TEST_CASE("There are nine lessons, numbered from 1, and each file of the folder is one") {
  const auto lessons = cli::shelved_lessons();
  REQUIRE(lessons.size() == 9);
  for (std::size_t index = 0; index < lessons.size(); ++index) CHECK(lessons[index].number == index + 1);
  std::size_t files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(DETENT_SOURCE_DIR "/specs/lessons"))
    files += entry.path().extension() == ".md" && entry.path().filename() != "README.md" ? 1 : 0;
  CHECK(files == lessons.size());
}

TEST_CASE("Every lesson has a hole that the machine finds, and a mend that it proves for all time",
          "[evidence]") {
  std::string missing;
  const std::vector<std::string> others = solvers_here(missing);
  if (!missing.empty()) WARN(missing << "it was not asked");
  for (const cli::ShelvedLesson& shelved : cli::shelved_lessons()) {
    INFO(shelved.name);
    const cli::Lesson lesson = lesson_of(shelved);
    const auto objection_to_it = cli::lesson_objection(lesson);
    INFO((objection_to_it ? objection_to_it->what : ""));
    REQUIRE_FALSE(objection_to_it.has_value());
    REQUIRE(lesson.design("hole") != nullptr);
    REQUIRE(lesson.designs.back().name == "mended");
    cli::LessonJudge judge(lesson, settings);
    const auto& hole = judge.verdicts({"hole", {}, {}}).report->verdicts;
    const auto comparisons = steps_of<cli::LessonComparison>(lesson);
    const bool parts =
        std::any_of(comparisons.begin(), comparisons.end(), [&](const cli::LessonComparison& both) {
          return both.b == "hole" && cli::is_different(judge.comparison(both.a, both.b));
        });
    CHECK((parts || std::any_of(hole.begin(), hole.end(), falls_or_says_nothing)));

    const cli::CheckResult& mended = judge.verdicts({"mended", {}, {}});
    CHECK(mended.compiled.diagnostics.empty());
    CHECK(mended.report->never_change.empty());
    CHECK(mended.report->overlaps.empty());
    std::vector<solver::Proof> proofs;
    bool any_possible = false;
    for (const solver::Verdict& verdict : mended.report->verdicts) {
      const dsl::Claim& claim = mended.compiled.model->claims[verdict.claim];
      INFO(claim.name);
      CHECK(verdict.outcome == (claim.possible ? Outcome::shown : Outcome::proved));
      CHECK_FALSE(verdict.vacuous);
      any_possible = any_possible || claim.possible;
      if (verdict.proof) proofs.push_back(*verdict.proof);
    }
    CHECK(any_possible);
    CHECK_FALSE(proofs.empty());
    CHECK(objection(others, *mended.compiled.model, proofs).empty());
    CHECK_FALSE(judge.was_undecided());
  }
}

TEST_CASE("Of each question to the machine exactly one choice fits, and it is asked before it is answered") {
  for (const cli::ShelvedLesson& shelved : cli::shelved_lessons()) {
    INFO(shelved.name);
    const cli::Lesson lesson = lesson_of(shelved);
    cli::LessonJudge judge(lesson, settings);
    std::size_t questions = 0;
    for (std::size_t index = 0; index < lesson.steps.size(); ++index) {
      const auto* question = std::get_if<cli::LessonQuestion>(&lesson.steps[index]);
      if (question == nullptr || !asks_the_machine(*question)) continue;
      ++questions;
      INFO(question->text);
      std::size_t fitting = 0;
      for (const cli::LessonChoice& choice : question->choices) {
        cli::LessonQuestion alone = *question;
        alone.choices = {choice};
        fitting += judge.choice(alone) ? 1 : 0;
      }
      CHECK(fitting == 1);
      const auto here = lesson.steps.begin() + static_cast<std::ptrdiff_t>(index);
      const auto shows = [&](const cli::LessonStep& step) { return gives_away(step, *question); };
      CHECK(std::none_of(lesson.steps.begin(), here, shows));
      CHECK(std::any_of(here, lesson.steps.end(), shows));
    }
    CHECK(questions >= 1);
    CHECK(steps_of<cli::LessonQuestion>(lesson).size() > questions);  // and one in words of one's own
  }
}
