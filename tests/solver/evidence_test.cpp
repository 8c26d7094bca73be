// Proofs as other solvers see them: each is three questions in SMT-LIB 2.6 (solver/smtlib.hpp), answered here
// by the programs z3 and cvc5. A proof is three times `unsat` (Bradley, VMCAI 2011, from memory: an invariant
// is checked apart from how it was found); one that was tampered with is not.
#include <stdlib.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "solver/forever.hpp"
#include "solver/smtlib.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"
#include "tests/support/design_generator.hpp"
#include "tests/support/other_solvers.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"

using namespace detent;
using namespace detent::test;

namespace {

namespace fs = std::filesystem;
using solver::Proof;

std::vector<std::string> solvers() {
  std::string missing;
  std::vector<std::string> found = solvers_here(missing);
  if (!missing.empty()) WARN(missing << "it was not asked");
  return found;
}

std::vector<Proof> proofs_of(const dsl::Model& model, std::chrono::seconds patience) {
  solver::ForeverOptions options;
  options.timeout = patience;
  options.jobs = 2;
  options.side_findings = false;
  options.small_proofs = true;
  std::vector<Proof> proofs;
  for (solver::Verdict& verdict : solver::check_forever(model, options).verdicts) {
    if (verdict.proof) proofs.push_back(std::move(*verdict.proof));
  }
  return proofs;
}

const char* const three_steps = R"(tick 20 ms
switch guard is safe | run
button nudge
stages arming is locked | primed | live
  any    -> locked when guard is safe
  locked -> primed when rises(nudge)
  primed -> locked after 3 s
  primed -> live   when rises(nudge)
latch  shown set arming is live reset guard is safe
pulse  recent on arming is primed for 3 s restarting
claim  needs_prime: whenever rises(arming is live): recent
claim  safe_is_safe: whenever guard is safe: not shown
claim  shown_is_live: whenever shown: arming is live
claim  can_go: possible shown
)";

Proof without(Proof proof, std::size_t clause) {
  proof.invariant.erase(proof.invariant.begin() + static_cast<std::ptrdiff_t>(clause));
  return proof;
}

/// One statement of one clause turned into its opposite.
Proof turned(Proof proof, std::size_t clause) {
  solver::Atom& atom = proof.invariant[clause].front();
  using Kind = solver::Atom::Kind;
  if (atom.kind == Kind::is || atom.kind == Kind::is_not) {
    atom.kind = atom.kind == Kind::is ? Kind::is_not : Kind::is;
  } else if (atom.kind == Kind::at_least) {
    atom = {.kind = Kind::at_most, .first = atom.first, .limit = atom.limit - 1};
  } else {
    atom.limit -= 1'000'000;
  }
  return proof;
}

/// A folder, gone afterwards.
class Folder {
 public:
  Folder() : path_((fs::temp_directory_path() / "detent-evidence-XXXXXX").string()) {
    REQUIRE(mkdtemp(path_.data()) != nullptr);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { fs::remove_all(path_); }
  [[nodiscard]] std::string at(const std::string& name) const { return path_ + '/' + name; }
  void write(const std::string& name, const std::string& text) const {
    std::ofstream(at(name), std::ios::binary | std::ios::trunc) << text;
  }
  [[nodiscard]] std::string read(const std::string& name) const {
    std::ostringstream text;
    text << std::ifstream(at(name), std::ios::binary).rdbuf();
    return text.str();
  }

 private:
  std::string path_;
};

/// A folder with the design and, in `ev`, its evidence.
class Evidence {
 public:
  Evidence() {
    folder.write("design.detent", three_steps);
    const ProcessResult made = check();
    INFO(made.errors);
    REQUIRE(made.status == 0);
  }
  [[nodiscard]] ProcessResult check() const {
    return run_detent({"check", folder.at("design.detent"), "--evidence", folder.at("ev")});
  }
  [[nodiscard]] ProcessResult recheck(const std::string& solver, std::vector<std::string> more = {}) const {
    std::vector<std::string> words{"recheck", folder.at("ev"), "--solver", solver};
    words.insert(words.end(), more.begin(), more.end());
    return run_detent(words);
  }
  /// Changes the first `from` behind the beginning of the invariant.
  void change(const std::string& file, const std::string& from, const std::string& to) const {
    std::string text = folder.read("ev/" + file);
    const std::size_t place = text.find(from, text.find(solver::invariant_begins));
    REQUIRE(place != std::string::npos);
    folder.write("ev/" + file, text.replace(place, from.size(), to));
  }
  /// The last clause of a proof's invariant as it is written, a line.
  [[nodiscard]] std::string last_clause(const std::string& file) const {
    const std::string text = folder.read("ev/" + file);
    const std::size_t end = text.find("\n))\n", text.find(solver::invariant_begins));
    REQUIRE(end != std::string::npos);
    return text.substr(text.rfind('\n', end - 1), end - text.rfind('\n', end - 1));
  }

  Folder folder;
};

}  // namespace

TEST_CASE("Both solvers confirm every proof of forty random designs", "[evidence]") {
  const std::vector<std::string> others = solvers();
  std::size_t confirmed = 0;
  for (std::uint64_t seed = 0; seed < 40; ++seed) {
    const dsl::Model model = compiled(random_design(seed));
    INFO("seed " << seed);
    const std::vector<Proof> proofs = proofs_of(model, std::chrono::seconds(3));
    CHECK(objection(others, model, proofs).empty());
    confirmed += proofs.size();
  }
  CHECK(confirmed >= 20);
  WARN(confirmed << " proofs, " << others.size() << " solvers");
}

TEST_CASE("A tampered invariant turns an answer to sat", "[evidence]") {
  const dsl::Model model = compiled(three_steps);
  const std::vector<Proof> proofs = proofs_of(model, std::chrono::seconds(60));
  REQUIRE(proofs.size() == 3);
  for (const std::string& solver : solvers()) {
    std::size_t dropped_noticed = 0;
    std::size_t dropped = 0;
    for (const Proof& proof : proofs) {
      CHECK(objection({solver}, model, {proof}).empty());
      for (std::size_t clause = 0; clause < proof.invariant.size(); ++clause) {
        // A clause that is turned round is false before tick 0 or after some step, whatever the others say.
        CHECK(has(objection({solver}, model, {turned(proof, clause)}), "'sat'"));
        ++dropped;
        dropped_noticed += has(objection({solver}, model, {without(proof, clause)}), "'sat'") ? 1U : 0U;
      }
    }
    // A proof is small, not always smallest: without a clause that was one too many it is as right as before.
    INFO(dropped_noticed << " of " << dropped << " noticed");
    CHECK(dropped_noticed >= 1);
  }
}

TEST_CASE("A question does not say what its answer should be", "[evidence]") {
  // Some solvers stop without an answer where they find another than they were told.
  const dsl::Model model = compiled(three_steps);
  for (const Proof& proof : proofs_of(model, std::chrono::seconds(60))) {
    for (const std::string& question : questions_of(model, proof)) CHECK_FALSE(has(question, ":status"));
  }
}

TEST_CASE("recheck confirms what check wrote", "[evidence]") {
  const Evidence evidence;
  for (const std::string& solver : solvers()) {
    const ProcessResult good = evidence.recheck(solver);
    CHECK(good.status == 0);
    CHECK(has(good.output, "3 of 3 proofs confirmed"));
    CHECK(good.errors.empty());
  }
}

TEST_CASE("recheck finds a proof that was changed", "[evidence]") {
  const Evidence evidence;
  for (const std::string& solver : solvers()) {
    const std::string clause = evidence.last_clause("needs_prime.step.smt2");
    SECTION(solver + ": in one question only") {
      evidence.change("needs_prime.step.smt2", clause, "");
      const ProcessResult found = evidence.recheck(solver);
      CHECK(found.status == 1);
      CHECK(has(found.output, "WRONG  needs_prime: its questions do not speak of the same invariant"));
      CHECK(has(found.output, "2 of 3 proofs confirmed"));
    }
    SECTION(solver + ": in all three, to something false") {
      for (const char* part : {"start", "step", "claim"}) {
        evidence.change(std::string("needs_prime.") + part + ".smt2", clause,
                        "\n  (not " + clause.substr(3) + ")");
      }
      const ProcessResult found = evidence.recheck(solver);
      CHECK(found.status == 1);
      CHECK(has(found.output, "the solver answers sat"));
    }
    SECTION(solver + ": its step") {
      std::string text = evidence.folder.read("ev/needs_prime.claim.smt2");
      text.insert(text.find(solver::step_ends), "(assert false)\n");
      evidence.folder.write("ev/needs_prime.claim.smt2", text);
      const ProcessResult found = evidence.recheck(solver);
      CHECK(found.status == 1);
      CHECK(has(found.output, "do not speak of the same step"));
    }
  }
}

// What a forger might do with a text editor; each of these once passed for a proof, or might have.
TEST_CASE("recheck finds whatever was put into a proof or left out of it", "[evidence]") {
  const Evidence evidence;
  const std::vector<std::string> others = solvers();
  if (others.empty()) return;
  struct Forgery {
    const char* what;
    std::vector<const char*> parts;
    std::string from, to;
  };
  const std::vector<const char*> all{"start", "step", "claim"};
  const std::string check = "(check-sat)";
  const std::string before = solver::invariant_begins;
  const std::vector<Forgery> forgeries{
      {"a contradiction", {"start"}, check, "(assert false)\n(check-sat)"},
      {"a contradiction", {"step"}, check, "(assert false)\n(check-sat)"},
      {"a contradiction", {"claim"}, check, "(assert false)\n(check-sat)"},
      {"a contradiction in all", all, before, "(assert false)\n" + before},
      {"an answer", {"claim"}, check, "(echo \"unsat\")\n(exit)\n(check-sat)"},
      {"another answer's words", all, before, "(set-option :print-success false)\n" + before},
      {"no question", {"claim"}, check, ""},
      {"a comment that ends early", {"step"}, check, "; \r(assert false)\n(check-sat)"},
      {"two commands in a line", {"step"}, check, "(assert false) (check-sat)"},
      {"another logic", all, "(set-logic QF_LIA)", "(set-logic QF_LRA)"},
      {"a step that can't be taken",
       {"step", "claim"},
       solver::step_ends,
       std::string("(assert false)\n") + solver::step_ends},
      {"an invariant that ends early", all, ") Bool (and true", ") Bool (and true)) (assert (and false"},
      {"an invariant that knows the first tick", all, "Bool (and true",
       "Bool (and true\n  (<= 0 |ticks since node 3 (0)@0|)"},
  };
  for (const Forgery& forgery : forgeries) {
    const Evidence fresh;
    std::string first;
    for (const char* part : forgery.parts) {
      const std::string name = std::string("ev/needs_prime.") + part + ".smt2";
      std::string text = fresh.folder.read(name);
      const std::size_t place = text.find(forgery.from);
      INFO(forgery.what << " in " << name);
      REQUIRE(place != std::string::npos);
      fresh.folder.write(name, text.replace(place, forgery.from.size(), forgery.to));
      first += std::string(part) + " ";
    }
    INFO(forgery.what << " in " << first);
    const ProcessResult found = fresh.recheck(others.front());
    INFO(found.output);
    CHECK(found.status == 1);
    CHECK(has(found.output, "WRONG  needs_prime"));
    CHECK(has(found.output, "2 of 3 proofs confirmed"));
  }
  SECTION("an index that names another claim's proof, or none") {
    const std::string index = evidence.folder.read("ev/index.json");
    auto json = nlohmann::json::parse(index);
    auto& claims = json["claims"];
    const auto proof = claims[1]["proof"];
    claims[0]["proof"] = proof;
    evidence.folder.write("ev/index.json", json.dump());
    CHECK(has(evidence.recheck(others.front()).output, "WRONG  needs_prime: the index does not name"));
    claims[0]["proof"] = nlohmann::json::array();
    evidence.folder.write("ev/index.json", json.dump());
    CHECK(has(evidence.recheck(others.front()).output, "WRONG  needs_prime: the index says that it holds"));
  }
}

TEST_CASE("recheck leaves nothing running that the solver started", "[evidence]") {
  const Evidence evidence;
  // The long sleep is a child of the solver, and would go on without it.
  evidence.folder.write("slow", "#!/bin/sh\nsleep 4321 &\necho $! > \"$(dirname \"$0\")/number\"\nwait\n");
  fs::permissions(evidence.folder.at("slow"), fs::perms::owner_all);
  const ProcessResult slow = evidence.recheck(evidence.folder.at("slow"), {"--timeout", "500 ms"});
  CHECK(slow.status == 3);
  const std::string number = evidence.folder.read("number");
  REQUIRE(!number.empty());
  std::ostringstream state;
  state << std::ifstream("/proc/" + number.substr(0, number.find('\n')) + "/stat").rdbuf();
  // Gone, or dead and only not yet reaped.
  CHECK((state.str().empty() || has(state.str(), ") Z ")));
}

TEST_CASE("Half-written evidence is never taken for evidence", "[evidence]") {
  const Evidence evidence;
  const std::vector<std::string> others = solvers();
  if (others.empty()) return;
  const std::string& solver = others.front();
  SECTION("no index") {
    fs::remove(evidence.folder.at("ev/index.json"));
    const ProcessResult refused = evidence.recheck(solver);
    CHECK(refused.status == 2);
    CHECK(has(refused.errors, "holds no finished evidence"));
  }
  SECTION("half an index") {
    const std::string index = evidence.folder.read("ev/index.json");
    evidence.folder.write("ev/index.json", index.substr(0, index.size() / 2));
    CHECK(evidence.recheck(solver).status == 2);
  }
  SECTION("a question is missing") {
    fs::remove(evidence.folder.at("ev/safe_is_safe.claim.smt2"));
    const ProcessResult found = evidence.recheck(solver);
    CHECK(found.status == 1);
    CHECK(has(found.output, "WRONG  safe_is_safe: the file 'safe_is_safe.claim.smt2' is missing"));
  }
  SECTION("a question is cut, wherever") {
    const std::string name = "ev/needs_prime.claim.smt2";
    const std::string whole = evidence.folder.read(name);
    // Behind `(check-sat)` nothing is left that matters.
    for (std::size_t length = 0; length + 8 < whole.find("(check-sat)"); length += whole.size() / 12) {
      evidence.folder.write(name, whole.substr(0, length));
      INFO("cut at " << length);
      CHECK(evidence.recheck(solver).status != 0);
    }
  }
  SECTION("a check that can't write it all leaves no index, not even the old one") {
    fs::remove(evidence.folder.at("ev/shown_is_live.start.smt2"));
    fs::create_directories(evidence.folder.at("ev/shown_is_live.start.smt2/in_the_way"));
    CHECK(evidence.check().status == 2);
    CHECK_FALSE(fs::exists(evidence.folder.at("ev/index.json")));
    CHECK(evidence.recheck(solver).status == 2);
  }
}

TEST_CASE("recheck's other exit statuses", "[evidence]") {
  const Evidence evidence;
  evidence.folder.write("slow", "#!/bin/sh\nexec sleep 20\n");
  evidence.folder.write("says_sat", "#!/bin/sh\necho sat\n");
  evidence.folder.write("says_unknown", "#!/bin/sh\necho unknown\n");
  evidence.folder.write("says_nothing", "#!/bin/sh\n");
  for (const char* name : {"slow", "says_sat", "says_unknown", "says_nothing"}) {
    fs::permissions(evidence.folder.at(name), fs::perms::owner_all);
  }
  CHECK(evidence.recheck(evidence.folder.at("says_sat")).status == 1);
  CHECK(evidence.recheck(evidence.folder.at("says_unknown")).status == 3);
  CHECK(evidence.recheck(evidence.folder.at("says_nothing")).status == 3);
  const ProcessResult slow = evidence.recheck(evidence.folder.at("slow"), {"--timeout", "200 ms"});
  CHECK(slow.status == 3);
  CHECK(has(slow.output, "took too long"));
  CHECK(evidence.recheck(evidence.folder.at("not_there")).status == 2);
  CHECK(evidence.recheck("").status == 2);
  CHECK(run_detent({"recheck", evidence.folder.at("nowhere"), "--solver", "z3"}).status == 2);
}
