// Decimal numbers from outside, kept as digits and a power of ten: no floating point anywhere, so that 0.1 is
// a tenth.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

namespace detent::cli {

__extension__ typedef __int128 Wide;

/// digits * 10^exponent. At most 18 digits are kept; a number with more is off by less than one part in
/// 10^17.
struct Decimal {
  std::int64_t digits = 0;
  int exponent = 0;
};

/// "-12", "40.5", "1.5e-3", "+7", ".5"; with `comma` also "40,5". Nothing for all else, "nan" and "inf"
/// included.
[[nodiscard]] std::optional<Decimal> read_decimal(std::string_view text, bool comma = false);

/// A whole number, and whether it is all that there was.
struct Scaled {
  std::int64_t value = 0;
  bool exact = true;
};

/// number * unit, to the nearest whole number (a half goes away from zero); nothing if it is beyond 9 *
/// 10^18. `unit` is above 0 and below 10^19.
[[nodiscard]] std::optional<Scaled> scaled(const Decimal& number, Wide unit);

/// a / b to the nearest whole number, a half away from zero; b above 0.
[[nodiscard]] Wide nearest_quotient(Wide a, Wide b);

/// The text without blanks and tabs at either end.
[[nodiscard]] std::string_view trimmed(std::string_view text);

}  // namespace detent::cli
