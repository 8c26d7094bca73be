#include "cli/decimal.hpp"

#include <algorithm>
#include <limits>

namespace detent::cli {
namespace {

constexpr int most_digits = 18;
constexpr int largest_exponent = 1000;

bool is_digit(char letter) {
  return letter >= '0' && letter <= '9';
}

bool take_sign(std::string_view& text) {
  const bool minus = text.starts_with('-');
  if (minus || text.starts_with('+')) text.remove_prefix(1);
  return minus;
}

/// Digits as they come; what is beyond the eighteenth only counts for its place.
struct Mantissa {
  std::int64_t digits = 0;
  int kept = 0;
  int exponent = 0;
  bool any = false;

  void add(char letter, bool behind_point) {
    any = true;
    if (kept == most_digits) {
      exponent += behind_point ? 0 : 1;
      return;
    }
    digits = digits * 10 + (letter - '0');
    kept += digits > 0 ? 1 : 0;
    exponent -= behind_point ? 1 : 0;
  }
};

std::optional<int> read_exponent(std::string_view text) {
  const bool minus = take_sign(text);
  if (text.empty() || !std::all_of(text.begin(), text.end(), is_digit)) return std::nullopt;
  int value = 0;
  for (const char letter : text) value = std::min(largest_exponent, value * 10 + (letter - '0'));
  return minus ? -value : value;
}

}  // namespace

std::string_view trimmed(std::string_view text) {
  const auto is_blank = [](char letter) { return letter == ' ' || letter == '\t'; };
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  return text;
}

std::optional<Decimal> read_decimal(std::string_view text, bool comma) {
  const bool minus = take_sign(text);
  Mantissa mantissa;
  bool behind_point = false;
  while (!text.empty()) {
    const char letter = text.front();
    if (is_digit(letter)) {
      mantissa.add(letter, behind_point);
    } else if (!behind_point && (letter == '.' || (comma && letter == ','))) {
      behind_point = true;
    } else {
      break;
    }
    text.remove_prefix(1);
  }
  if (!mantissa.any) return std::nullopt;
  // A text of many megabytes of zeros behind the point is a number too, and none to count with.
  mantissa.exponent = std::clamp(mantissa.exponent, -largest_exponent, largest_exponent);
  if (!text.empty()) {
    if (text.front() != 'e' && text.front() != 'E') return std::nullopt;
    const std::optional<int> exponent = read_exponent(text.substr(1));
    if (!exponent) return std::nullopt;
    mantissa.exponent += *exponent;
  }
  return Decimal{minus ? -mantissa.digits : mantissa.digits, mantissa.exponent};
}

Wide nearest_quotient(Wide a, Wide b) {
  const Wide size = a < 0 ? -a : a;
  const Wide quotient = (size + b / 2) / b;
  return a < 0 ? -quotient : quotient;
}

std::optional<Scaled> scaled(const Decimal& number, Wide unit) {
  constexpr Wide limit = 9'000'000'000'000'000'000;
  constexpr Wide room = std::numeric_limits<Wide>::max() / 10;
  Wide product = unit * number.digits;
  int exponent = number.exponent;
  for (; exponent > 0 && product != 0; --exponent) {
    if (product > limit || product < -limit) return std::nullopt;
    product *= 10;
  }
  Wide divisor = 1;
  for (; exponent < 0 && divisor < room; ++exponent) divisor *= 10;
  // Divided by more than 10^37 nothing is left of any product below.
  if (exponent < 0) return Scaled{0, product == 0};
  const Wide value = nearest_quotient(product, divisor);
  if (value > limit || value < -limit) return std::nullopt;
  return Scaled{static_cast<std::int64_t>(value), value * divisor == product};
}

}  // namespace detent::cli
