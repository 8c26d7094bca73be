// What `detent step` tells: what happened, where everything stands, and the claims.
#pragma once

#include "cli/page.hpp"
#include "cli/step_session.hpp"

namespace detent::cli {

/// What happened while time passed; what stayed as it was is left out.
[[nodiscard]] Page passage_page(const dsl::Compiled& compiled, const Session& session, const Passage& passage,
                                const Terminal& terminal);

/// Where these signals stand; none: hands, outputs and what is on; `all`: everything.
[[nodiscard]] Page standing_page(const Session& session, const std::vector<std::uint32_t>& signals, bool all,
                                 const Terminal& terminal);

[[nodiscard]] Page session_claims_page(const dsl::Compiled& compiled, const Session& session,
                                       const Terminal& terminal);

/// What was done so far as a diagram: these signals, or all that changed.
[[nodiscard]] Page session_diagram(const Session& session, std::vector<std::uint32_t> signals,
                                   const Terminal& terminal);

[[nodiscard]] std::string step_commands_text();

}  // namespace detent::cli
