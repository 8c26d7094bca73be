// Which questions are best asked together.
#pragma once

#include <cstddef>
#include <vector>

#include "dsl/model.hpp"
#include "solver/reach.hpp"

namespace detent::solver {

/// Groups of indices into `questions`. Questions share a group if one remembers hardly more than the other
/// and both are hopeful or neither is.
/// Where a limit is reached first, the questions not looked at by then are in no group.
[[nodiscard]] std::vector<std::vector<std::size_t>> group_questions(
    const dsl::Model& model, const std::vector<ReachQuestion>& questions, const Limits& limits);

}  // namespace detent::solver
