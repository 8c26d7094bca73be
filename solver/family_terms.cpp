#include "solver/family_terms.hpp"

#include <z3++.h>

#include <algorithm>
#include <map>
#include <set>

#include "solver/steps.hpp"

namespace detent::solver {
namespace {

struct Bounds {
  Value low = 0, high = -1;
  void include(Value value) {
    const bool none = low > high;
    low = none ? value : std::min(low, value);
    high = none ? value : std::max(high, value);
  }
  [[nodiscard]] bool has(Value value) const { return low <= value && value <= high; }
};

z3::expr within(z3::context& context, const z3::expr& term, const Bounds& bounds) {
  return term >= context.int_val(static_cast<std::int64_t>(bounds.low)) &&
         term <= context.int_val(static_cast<std::int64_t>(bounds.high));
}

/// The columns of a row as stretches.
std::vector<Bounds> stretches(const std::set<Value>& columns) {
  std::vector<Bounds> found;
  for (const Value column : columns) {
    if (found.empty() || found.back().high + 1 != column) found.emplace_back();
    found.back().include(column);
  }
  return found;
}

}  // namespace

std::vector<z3::expr> one_of(z3::context& context, const std::vector<Member>& members) {
  Bounds rows, columns, difference, sum;
  std::map<Value, std::set<Value>> columns_of;
  for (const Member& one : members) {
    rows.include(one.row);
    columns.include(one.column);
    difference.include(one.column - one.row);
    sum.include(one.column + one.row);
    columns_of[one.row].insert(one.column);
  }
  const z3::expr row = unknown_row(context);
  const z3::expr column = unknown_column(context);
  std::vector<z3::expr> facts{within(context, row, rows), within(context, column, columns),
                              within(context, column - row, difference), within(context, column + row, sum)};
  std::size_t inside = 0;
  for (Value one = rows.low; one <= rows.high; ++one) {
    for (Value other = columns.low; other <= columns.high; ++other) {
      inside += difference.has(other - one) && sum.has(other + one) ? 1U : 0U;
    }
  }
  std::size_t wanted = 0;
  z3::expr_vector any(context);
  for (const auto& [one, set] : columns_of) {
    wanted += set.size();
    z3::expr_vector parts(context);
    for (const Bounds& stretch : stretches(set)) parts.push_back(within(context, column, stretch));
    any.push_back(row == context.int_val(static_cast<std::int64_t>(one)) && z3::mk_or(parts));
  }
  if (inside != wanted) facts.push_back(z3::mk_or(any));
  return facts;
}

}  // namespace detent::solver
