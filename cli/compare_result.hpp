// Everything that one comparison found out, before it is put into words or into JSON.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "cli/result.hpp"
#include "dsl/front.hpp"
#include "dsl/side_by_side.hpp"
#include "solver/compare.hpp"

namespace detent::cli {

/// A claim as one of the designs words it, and what it is in each.
struct ComparedClaim {
  std::string name;
  std::string text;
  std::string doc;
  std::optional<std::size_t> worded_by = {};  ///< both have the name, but only this design words it so
  std::array<std::string, 2> why_not = {};    ///< why it can't be asked of a design, or ""
};

/// A condition that figures need: its text for each design, or why there is none.
struct ComparedCondition {
  std::array<std::string, 2> text = {};
  std::array<std::string, 2> why_not = {};
};

struct CompareResult {
  std::array<std::string, 2> files;  ///< as the user named them
  /// With the claims of the other that it can be asked, and the conditions of the figures, as claims.
  std::array<dsl::Compiled, 2> compiled;
  std::string allowed = {};  ///< how long each question could take, in words
  // All that follows is empty where a text has errors.
  std::optional<dsl::SideBySide> both = {};
  std::vector<ComparedClaim> claims = {};
  ComparedCondition goal = {}, lock = {}, rest = {};
  solver::CompareQuestions questions = {};
  std::optional<solver::Comparison> comparison = {};

  [[nodiscard]] const dsl::Model& model(std::size_t side) const { return *compiled[side].model; }
};

/// Something that the designs do differently, or an output that only one has.
[[nodiscard]] bool is_different(const CompareResult& result);
[[nodiscard]] bool is_undecided(const CompareResult& result);
/// Errors and contradictions first, then a difference, then what is undecided.
[[nodiscard]] Status status_of(const CompareResult& result);

/// Whether an answer to a claim is the same for somebody who reads the word only.
[[nodiscard]] bool same_answer(const solver::Verdict& one, const solver::Verdict& other);
[[nodiscard]] bool same_figure(const solver::Figure& one, const solver::Figure& other);

}  // namespace detent::cli
