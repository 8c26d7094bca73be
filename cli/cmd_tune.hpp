// detent tune: for which values of its tunables the claims of a design hold.
#pragma once

#include <optional>
#include <variant>

#include "cli/options.hpp"
#include "cli/result.hpp"
#include "cli/settings.hpp"
#include "cli/tune_study.hpp"

namespace detent::cli {

[[nodiscard]] CommandResult tune(const TuneOptions& options);

/// What is to be decided, with nothing decided.
[[nodiscard]] std::variant<TuneResult, CommandResult> planned_tune(const TuneOptions& options,
                                                                   dsl::Compiled design,
                                                                   const Settings& settings);
/// Edges and runs of all studies, when their values are decided.
void finish(TuneResult& result, const Settings& settings);
/// The page of a finished result, or its JSON.
[[nodiscard]] CommandResult tune_answer(const TuneOptions& options, const Settings& settings,
                                        const TuneResult& result);

/// All of it but the page, of a text that is free of errors. A message where the options do not fit, or there
/// is nothing to tune.
[[nodiscard]] std::variant<TuneResult, CommandResult> tuned(const TuneOptions& options, dsl::Compiled design,
                                                            const Settings& settings);

/// Only whether it could be done: a message where the options do not fit, or there is nothing to tune.
[[nodiscard]] std::optional<CommandResult> try_tune(const TuneOptions& options, const dsl::Compiled& design);

}  // namespace detent::cli
