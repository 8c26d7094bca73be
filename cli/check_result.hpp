// Everything that one check found out, before it is put into words or into JSON.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "cli/bound.hpp"
#include "cli/result.hpp"
#include "dsl/front.hpp"
#include "solver/verdict.hpp"

namespace detent::cli {

struct CheckResult {
  std::string file;  ///< as the user named it
  dsl::Compiled compiled;
  /// How far was looked. Absent if every run of any length was, or if the text has errors.
  std::optional<Bound> bound = {};
  std::string allowed = {};                   ///< without a bound: how long each claim could take, in words
  std::size_t asked = 0;                      ///< of how many claims there is to be a verdict
  std::optional<solver::Report> report = {};  ///< absent if the text has errors
};

/// By what a script decides: errors of the text and assumptions that contradict each other come first, then a
/// refuted claim, then an undecided one.
[[nodiscard]] Status status_of(const CheckResult& result);

}  // namespace detent::cli
