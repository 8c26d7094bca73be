// What --explain shows is what is asked: for every claim of every shipped design its lines of SMT-LIB are
// those of the evidence, all of them and no other; and put together in the order of the page they are
// questions that the program z3 reads and answers as it should.
//
// Checked: SMT-LIB on the pages of --explain, read and answered by another program | SMT-LIB 2.6 | the format
// read
#include <algorithm>
#include <iterator>
#include <set>

#include "cli/explain.hpp"
#include "cli/lesson_shelf.hpp"
#include "solver/forever.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/other_solvers.hpp"
#include "tests/support/shipped.hpp"

using namespace detent;
using namespace detent::test;

namespace {

void append(std::string& text, const cli::ExplainedPiece& piece) {
  for (const std::string& line : piece.smt) text += line + '\n';
}

void append(std::string& text, const std::vector<cli::ExplainedPiece>& pieces) {
  for (const cli::ExplainedPiece& piece : pieces) append(text, piece);
}

/// One tick, in the order of the page.
std::string tick_of(const cli::Explanation& explained) {
  std::string text;
  append(text, explained.tick);
  append(text, explained.assumptions);
  append(text, explained.claim);
  append(text, explained.afterwards);
  return text;
}

std::string later_steps_of(const cli::Explanation& explained) {
  std::string text;
  for (const std::string& line : explained.later_steps) text += line + '\n';
  return text;
}

struct Question {
  std::string text, answer;
};

/// The questions that the page tells, put together from its pieces.
std::vector<Question> questions_on_page(const cli::Explanation& explained) {
  std::string head = "(set-logic QF_LIA)\n";
  append(head, explained.remembered);
  const std::string end = "(check-sat)\n";
  if (!explained.proof)
    return {{head + tick_of(explained) + explained.broken.smt.back() + '\n' + end, "sat"}};
  append(head, explained.invariant);
  std::string start = head, step = head, broken = head;
  append(start, explained.before);
  if (explained.k > 1) start += tick_of(explained) + later_steps_of(explained);
  append(start, explained.start);
  step += tick_of(explained);
  append(step, explained.step);
  broken += tick_of(explained) + later_steps_of(explained);
  append(broken, explained.broken);
  return {{start + end, "unsat"}, {step + end, "unsat"}, {broken + end, "unsat"}};
}

std::multiset<std::string> lines_on_page(const cli::Explanation& explained) {
  std::string text;
  append(text, explained.remembered);
  append(text, explained.invariant);
  text += tick_of(explained) + later_steps_of(explained);
  append(text, explained.broken);
  std::multiset<std::string> lines;
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t stop = text.find('\n', begin);
    lines.insert(text.substr(begin, stop - begin));
    begin = stop + 1;
  }
  return lines;
}

/// All lines of the question about the claim but comments and frame.
std::multiset<std::string> lines_of_evidence(const dsl::Model& model, const solver::Proof& proof) {
  const std::string text = solver::proof_text(model, proof, "title").claim;
  static const std::set<std::string> frame{"(set-info :smt-lib-version 2.6)", "(set-logic QF_LIA)",
                                           "(check-sat)", "(exit)"};
  std::multiset<std::string> lines;
  bool ramp = false;
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t stop = text.find('\n', begin);
    const std::string line = text.substr(begin, stop - begin);
    ramp = line.find(" may move on meanwhile") != std::string::npos;
    if ((!line.starts_with(";") || ramp) && frame.count(line) == 0) lines.insert(line);
    begin = stop + 1;
  }
  return lines;
}

/// What only one of the two has, for a person to read; "" where they are the same.
std::string difference(const std::multiset<std::string>& page, const std::multiset<std::string>& evidence) {
  std::vector<std::string> lines;
  std::set_symmetric_difference(page.begin(), page.end(), evidence.begin(), evidence.end(),
                                std::back_inserter(lines));
  std::string text;
  for (const std::string& line : lines)
    text += (page.count(line) != 0 ? "page: " : "evidence: ") + line + '\n';
  return text;
}

struct Seen {
  std::size_t proofs = 0, runs = 0;
};

void examine(const dsl::Compiled& compiled, std::vector<Question>& questions, Seen& seen) {
  const dsl::Model& model = *compiled.model;
  const solver::Report report = solver::check_forever(
      model, {.timeout = std::chrono::seconds(60), .jobs = 2, .side_findings = false, .small_proofs = true});
  for (const solver::Verdict& verdict : report.verdicts) {
    const dsl::Claim& claim = model.claims[verdict.claim];
    INFO(claim.name);
    const cli::Explanation explained = cli::explain(compiled, verdict);
    const solver::Proof proof =
        verdict.proof ? *verdict.proof : solver::Proof{claim.watch, {claim.watch}, {}, 1};
    CHECK(difference(lines_on_page(explained), lines_of_evidence(model, proof)) == "");
    CHECK(explained.before.size() == explained.remembered.size());
    for (const auto* pieces : {&explained.remembered, &explained.tick, &explained.assumptions}) {
      for (const cli::ExplainedPiece& piece : *pieces) CHECK_FALSE(piece.words.empty());
    }
    for (Question& one : questions_on_page(explained)) questions.push_back(std::move(one));
    ++(verdict.proof ? seen.proofs : seen.runs);
  }
}

/// The question that another program answers otherwise, or "".
std::string answered_otherwise(const std::vector<Question>& questions) {
  const auto z3 = installed("z3");
  if (!z3) {
    WARN("z3 is not installed; it was not asked");
    return "";
  }
  std::vector<std::string> texts;
  for (const Question& one : questions) texts.push_back(one.text);
  const std::vector<std::string> said = answers(*z3, texts);
  for (std::size_t index = 0; index < said.size(); ++index) {
    if (said[index] != questions[index].answer) return said[index] + "\n" + questions[index].text;
  }
  return "";
}

}  // namespace

TEST_CASE("What --explain shows is the evidence, and another program answers it as told", "[evidence]") {
  Seen seen;
  for (const std::string& path : shipped_files()) {
    const dsl::Compiled compiled = compile_changed(path, {});
    if (!compiled.model || compiled.model->claims.empty()) continue;
    INFO(path);
    std::vector<Question> questions;
    examine(compiled, questions, seen);
    CHECK(answered_otherwise(questions) == "");
  }
  CHECK(seen.proofs >= 150);
  CHECK(seen.runs >= 80);
}

TEST_CASE("An explanation of a proof that needs more than one step has the later steps too") {
  // The two-bit counters of tests/reference/induction_test.cpp need them; here the proof is made by hand, and
  // only its form is looked at.
  const dsl::Compiled compiled = dsl::compile_text(
      "k.detent", "tick 20 ms\nbutton b\nlatch l set b reset not b\nclaim c: never l while not b\n");
  REQUIRE(compiled.model.has_value());
  const dsl::Claim& claim = compiled.model->claims.front();
  solver::Verdict verdict{.claim = 0, .outcome = solver::Outcome::proved};
  verdict.proof = solver::Proof{claim.watch, {claim.watch}, {}, 3};
  const cli::Explanation explained = cli::explain(compiled, verdict);
  CHECK(explained.k == 3);
  CHECK_FALSE(explained.later_steps.empty());
  CHECK(difference(lines_on_page(explained), lines_of_evidence(*compiled.model, *verdict.proof)) == "");
  std::vector<Question> questions = questions_on_page(explained);
  CHECK(answered_otherwise(questions).empty());
}
