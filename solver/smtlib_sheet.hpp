// What the questions of a proof and the steps in them are written with: symbols, numbers, and a sheet that
// keeps for each line what it is there for.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "dsl/model.hpp"
#include "solver/machine.hpp"
#include "solver/slice.hpp"
#include "solver/smtlib.hpp"

namespace detent::solver {

[[nodiscard]] std::string smt_number(Value value);
[[nodiscard]] std::string smt_literal(bool condition, Value value);
[[nodiscard]] const char* smt_sort(bool condition);
/// What the symbols of a step end in, and those of what is remembered before it.
[[nodiscard]] std::string smt_at(int step);

/// Symbols: what a person calls a node, else its number.
class SmtNames {
 public:
  SmtNames(const dsl::Model& model, const Slice& slice, const Machine& machine);
  [[nodiscard]] std::string node(NodeId id, const std::string& suffix) const;
  [[nodiscard]] std::string memory(std::size_t index, const std::string& suffix) const;

 private:
  void give(NodeId id, const std::string& name);

  std::vector<std::string> names_;
  std::vector<std::string> memories_;
  std::set<std::string> used_;
};

class SmtSheet {
 public:
  explicit SmtSheet(const Slice& slice) : slice_(&slice) {}

  void line(const std::string& text) { lines_.push_back({part_, node_, step_, text}); }
  void comment(const std::string& text);
  /// What the lines that follow are written for; `node` of the slice.
  void is_about(ProofLine::Part part, NodeId node = dsl::no_node);
  /// The step that the lines that follow belong to.
  void begin_step(int step) { step_ = step; }

  void declare(const std::string& name, bool condition);
  void assert_range(const std::string& name, const dsl::Range& range);

  /// All lines; the sheet is empty afterwards.
  [[nodiscard]] std::vector<ProofLine> take();

 private:
  const Slice* slice_;
  std::vector<ProofLine> lines_;
  ProofLine::Part part_ = ProofLine::Part::frame;
  NodeId node_ = dsl::no_node;
  int step_ = 0;
};

}  // namespace detent::solver
