// A search for runs with the value of the tunable as an unknown. Private to the solver.
#pragma once

#include <functional>
#include <vector>

#include "solver/family.hpp"
#include "solver/limits.hpp"

namespace detent::solver {

/// Calls `found` with each run to the family's watch and the place of its value, and takes out of the
/// question the members that it answers with (at least that one). Looks at runs of at most `most_steps`
/// steps, and ends early where a limit is reached. The runs are the model's at the family's first member, and
/// not checked.
struct FamilyRun {
  Run run;
  Value row = 0, column = 0;
};
void search_family(const Family& family, const std::vector<Member>& members, int most_steps,
                   const Limits& limits, const std::function<std::vector<Member>(const FamilyRun&)>& found);

}  // namespace detent::solver
