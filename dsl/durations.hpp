// Times as written, to exact lengths and whole ticks. Private to checking.
#pragma once

#include <optional>

#include "dsl/scope.hpp"

namespace detent::dsl {

/// The length of a constant time such as `8 s`, `patience + 1 s`; reports and returns nothing if it is none.
[[nodiscard]] std::optional<Picoseconds> length_of(const Expr& expr, const Scope& scope,
                                                   CheckContext& context);

/// The same in ticks: whole, at least `least`, at most longest_duration; else reports with the nearest that
/// are.
[[nodiscard]] std::optional<Value> ticks_of(const Expr& expr, const Scope& scope, Value least,
                                            CheckContext& context);

/// Whether the expression looks like a time (its first quantity has a unit of time only, or it names a time).
[[nodiscard]] bool looks_like_time(const Expr& expr, const Scope& scope);

}  // namespace detent::dsl
