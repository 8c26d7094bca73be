#include "tests/support/other_solvers.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "solver/smtlib.hpp"
#include "tests/support/process.hpp"

namespace detent::test {
namespace {

/// A file with this text, gone afterwards.
class QuestionFile {
 public:
  explicit QuestionFile(const std::string& text)
      : path_((std::filesystem::temp_directory_path() / "detent-question-XXXXXX.smt2").string()) {
    const int file = mkstemps(path_.data(), 5);
    if (file < 0) throw std::runtime_error("no room for a question");
    close(file);
    std::ofstream(path_, std::ios::binary) << text;
  }
  QuestionFile(const QuestionFile&) = delete;
  QuestionFile& operator=(const QuestionFile&) = delete;
  ~QuestionFile() { unlink(path_.c_str()); }
  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  std::string path_;
};

/// One question of several: it does not end the program that answers it.
std::string without_exit(const std::string& question) {
  std::istringstream lines(question);
  std::string text;
  for (std::string line; std::getline(lines, line);) {
    if (line != "(exit)") text += line + '\n';
  }
  return text;
}

bool is_answer(const std::string& line) {
  return line == "sat" || line == "unsat" || line == "unknown";
}

}  // namespace

std::optional<std::string> installed(const std::string& program) {
  for (const char* folder : {"/usr/local/bin/", "/usr/bin/", "/bin/"}) {
    if (access((folder + program).c_str(), X_OK) == 0) return folder + program;
  }
  return std::nullopt;
}

std::vector<std::string> solvers_here(std::string& missing) {
  std::vector<std::string> paths;
  for (const char* name : {"z3", "cvc5"}) {
    if (const auto path = installed(name)) {
      paths.push_back(*path);
    } else {
      missing += fmt::format("{} is not installed; ", name);
    }
  }
  if (!missing.empty() && std::getenv("CI") != nullptr) {  // NOLINT(concurrency-mt-unsafe)
    throw std::runtime_error(missing + "on a build server it must be");
  }
  return paths;
}

std::vector<std::string> answers(const std::string& solver, const std::vector<std::string>& questions) {
  std::string text;
  for (const std::string& question : questions) {
    text += (text.empty() ? "" : "(reset)\n") + without_exit(question);
  }
  const QuestionFile file(text);
  ProcessWishes wishes;
  wishes.limit = std::chrono::minutes(10);
  const ProcessResult result = run_process({solver, file.path()}, wishes);
  std::istringstream lines(result.output);
  std::vector<std::string> said;
  for (std::string line; std::getline(lines, line);) {
    said.push_back(is_answer(line) ? line : "no answer: " + line);
  }
  said.resize(questions.size(), "no answer: " + result.errors);
  return said;
}

std::vector<std::string> questions_of(const dsl::Model& model, const solver::Proof& proof) {
  const solver::ProofText text = solver::proof_text(model, proof, "proof");
  return {text.start, text.step, text.claim};
}

std::string objection(const std::vector<std::string>& solvers, const dsl::Model& model,
                      const std::vector<solver::Proof>& proofs) {
  std::vector<std::string> questions;
  for (const solver::Proof& proof : proofs) {
    for (std::string& question : questions_of(model, proof)) questions.push_back(std::move(question));
  }
  if (questions.empty()) return "";
  for (const std::string& solver : solvers) {
    const std::vector<std::string> said = answers(solver, questions);
    for (std::size_t index = 0; index < said.size(); ++index) {
      if (said[index] != "unsat") {
        return fmt::format("{} answers '{}' to:\n{}", solver, said[index], questions[index]);
      }
    }
  }
  return "";
}

}  // namespace detent::test
