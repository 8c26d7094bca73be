// One claim as questions for any solver that reads SMT-LIB 2.6.
#pragma once

#include <string>
#include <variant>

#include "cli/options.hpp"
#include "cli/result.hpp"
#include "cli/settings.hpp"
#include "dsl/front.hpp"

namespace detent::cli {

struct SolverQuestion {
  std::string text;
  std::string told;  ///< what is asked and which answer is expected, in a line
  Status status = Status::all_hold;
};

/// With --within: whether a run of up to so many ticks breaks (or does) the claim; nothing is decided here.
/// Without: the claim is checked, and what its verdict rests on is asked: of a proof its three questions,
/// parted by (reset), to be answered `unsat`; of a run, whether there is one of its length, to be answered
/// `sat`. A message where nothing can be asked. `design` has a model.
[[nodiscard]] std::variant<SolverQuestion, CommandResult> question_of(const CheckOptions& options,
                                                                      dsl::Compiled design,
                                                                      const Settings& settings);

}  // namespace detent::cli
