#include "dsl/borrow.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <span>
#include <utility>

#include "dsl/check.hpp"
#include "dsl/grammar.hpp"
#include "dsl/lower.hpp"

namespace detent::dsl {
namespace {

const Declaration* declared(const Tree& tree, const std::string& name) {
  for (const Declaration& declaration : tree.declarations) {
    const bool claim = std::holds_alternative<ClaimDeclaration>(declaration.body) ||
                       std::holds_alternative<AssumeDeclaration>(declaration.body);
    if (!claim && declaration.name.text == name) return &declaration;
  }
  return nullptr;
}

void rename(Expr& expr, const Renames& renames) {
  if (expr.op == Op::name) expr.text = name_in_b(expr.text, renames);
  for (Expr& operand : expr.operands) rename(operand, renames);
}

std::string first_error(const Diagnostics& diagnostics) {
  for (const Diagnostic& one : diagnostics) {
    if (one.severity() == Severity::error) return one.message;
  }
  return "";
}

bool names_something(const Expr& expr) {
  return expr.op == Op::name || std::any_of(expr.operands.begin(), expr.operands.end(),
                                            [](const Expr& one) { return names_something(one); });
}

/// The claim's declaration, read from its own text, or why there is none.
struct ReadClaim {
  Declaration declaration;
  std::string problem;
};

ReadClaim read_claim(const Wanted& wanted, const Renames& renames, Sources& sources) {
  Diagnostics diagnostics;
  Tree tree = parse(sources, sources.add("claim " + wanted.name, wanted.declaration), diagnostics);
  ReadClaim read{.declaration = {}, .problem = first_error(diagnostics)};
  if (!read.problem.empty()) return read;
  auto* claim = tree.declarations.size() == 1 ? std::get_if<ClaimDeclaration>(&tree.declarations.front().body)
                                              : nullptr;
  if (claim == nullptr) {
    read.problem = "it is not one expression";
    return read;
  }
  rename(claim->body.first, renames);
  if (claim->body.second) rename(*claim->body.second, renames);
  if (claim->body.duration) rename(*claim->body.duration, renames);
  read.declaration = std::move(tree.declarations.front());
  read.declaration.name.text = wanted.name;
  return read;
}

struct Asked {
  Wanted* wanted;
  Declaration declaration;
};

/// Adds those that can be asked, and leaves out each other with its problem, so that it does not keep the
/// others from it. All at once where all are good, else by halves: hardly ever is each looked at by itself.
void add_good(Compiled& more, std::span<const Asked> asked) {
  if (asked.empty()) return;
  const auto size = static_cast<std::ptrdiff_t>(more.tree.declarations.size());
  for (const Asked& one : asked) more.tree.declarations.push_back(one.declaration);
  Diagnostics diagnostics;
  static_cast<void>(check(more.tree, more.sources, diagnostics));
  const std::string problem = first_error(diagnostics);
  if (problem.empty()) return;
  more.tree.declarations.erase(more.tree.declarations.begin() + size, more.tree.declarations.end());
  if (asked.size() == 1) {
    asked.front().wanted->problem = problem;
    return;
  }
  add_good(more, asked.first(asked.size() / 2));
  add_good(more, asked.subspan(asked.size() / 2));
}

}  // namespace

Compiled compile_with(const Compiled& design, std::vector<Wanted>& wanted, const Renames& renames) {
  Compiled more{.sources = design.sources, .diagnostics = {}, .tree = design.tree, .design = {}, .model = {}};
  std::vector<Asked> asked;
  for (Wanted& one : wanted) {
    ReadClaim read = read_claim(one, renames, more.sources);
    one.problem = read.problem;
    if (one.problem.empty()) asked.push_back({&one, std::move(read.declaration)});
  }
  add_good(more, asked);
  if (auto checked = check(more.tree, more.sources, more.diagnostics)) {
    Model model = lower(*checked, more.sources, more.diagnostics);
    if (!has_errors(more.diagnostics)) {
      more.model = std::move(model);
      more.design = std::move(checked);
    }
  }
  if (more.model) return more;
  // Only together are they too much (for the largest number, or the largest circuit).
  for (Wanted& one : wanted) {
    if (one.problem.empty()) one.problem = first_error(more.diagnostics);
  }
  return design;
}

std::string expression_problem(const std::string& text) {
  if (text.find_first_not_of(" \t\r\n") == std::string::npos) return "nothing is written";
  Sources sources;
  Diagnostics diagnostics;
  // Read without brackets round it, so that it can't close them; on a line of its own, so that a remark at
  // its end ends there.
  const Tree tree =
      parse(sources, sources.add("asked", fmt::format("signal asked = {}\n", text)), diagnostics);
  if (const std::string problem = first_error(diagnostics); !problem.empty()) {
    return fmt::format("'{}' is not one condition: {}", text, problem);
  }
  const auto* signal = tree.declarations.size() == 1
                           ? std::get_if<SignalDeclaration>(&tree.declarations.front().body)
                           : nullptr;
  if (signal == nullptr) return fmt::format("'{}' is not one condition", text);
  return names_something(signal->value)
             ? ""
             : fmt::format("'{}' is always the same: it names nothing of the design", text);
}

std::map<std::string, std::string> claim_texts(const Compiled& design) {
  std::map<std::string, std::string> texts;
  for (const Declaration& declaration : design.tree.declarations) {
    if (!std::holds_alternative<ClaimDeclaration>(declaration.body)) continue;
    texts.emplace(declaration.name.text, design.sources.text(declaration.place));
  }
  return texts;
}

std::string reset_text(const Compiled& design, const std::string& latch) {
  const Declaration* declaration = declared(design.tree, latch);
  const auto* body = declaration == nullptr ? nullptr : std::get_if<LatchDeclaration>(&declaration->body);
  return body == nullptr ? "" : std::string(design.sources.text(body->reset.place));
}

std::string resting_text(const Compiled& design, const std::string& output) {
  const Declaration* declaration = declared(design.tree, output);
  const auto* body = declaration == nullptr ? nullptr : std::get_if<OutputDeclaration>(&declaration->body);
  if (body == nullptr || !body->otherwise) return "";
  return fmt::format("{} == ({})", output, design.sources.text(body->otherwise->place));
}

}  // namespace detent::dsl
