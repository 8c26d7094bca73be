// Adders and comparers of the plainest kind (carry from bit to bit). The numbers of a design are a dozen
// bits wide, and where one operand is constant the gates fold away to a third.
#include "solver/binary.hpp"

#include <algorithm>
#include <bit>

namespace detent::solver {

std::size_t width_of(std::uint64_t highest) {
  return static_cast<std::size_t>(std::bit_width(highest));
}

Bits constant_bits(std::uint64_t number, std::size_t width) {
  Bits bits;
  for (std::size_t place = 0; place < width; ++place) {
    bits.push_back(literal(place < 64 && ((number >> place) & 1U) != 0));
  }
  return bits;
}

Bits resized(Bits bits, std::size_t width) {
  bits.resize(width, always_false);
  return bits;
}

Bits sum(Gates& gates, const Bits& a, const Bits& b, std::size_t width) {
  const Bits left = resized(a, width);
  const Bits right = resized(b, width);
  Bits result;
  Literal carry = always_false;
  for (std::size_t place = 0; place < width; ++place) {
    const Literal differ = !gates.same(left[place], right[place]);
    result.push_back(!gates.same(differ, carry));
    carry = gates.choose(differ, carry, left[place]);
  }
  return result;
}

Bits product(Gates& gates, std::uint64_t factor, const Bits& a, std::size_t width) {
  Bits result = constant_bits(0, width);
  for (std::size_t place = 0; place < width && place < 64; ++place) {
    if (((factor >> place) & 1U) == 0) continue;
    Bits shifted(place, always_false);
    shifted.insert(shifted.end(), a.begin(), a.end());
    result = sum(gates, result, shifted, width);
  }
  return result;
}

Bits choice(Gates& gates, Literal condition, const Bits& a, const Bits& b) {
  const std::size_t width = std::max(a.size(), b.size());
  const Bits left = resized(a, width);
  const Bits right = resized(b, width);
  Bits result;
  for (std::size_t place = 0; place < width; ++place) {
    result.push_back(gates.choose(condition, left[place], right[place]));
  }
  return result;
}

Literal equal_bits(Gates& gates, const Bits& a, const Bits& b) {
  const std::size_t width = std::max(a.size(), b.size());
  const Bits left = resized(a, width);
  const Bits right = resized(b, width);
  Literal equal = always_true;
  for (std::size_t place = 0; place < width; ++place) {
    equal = gates.both(equal, gates.same(left[place], right[place]));
  }
  return equal;
}

Literal at_most_bits(Gates& gates, const Bits& a, const Bits& b) {
  const std::size_t width = std::max(a.size(), b.size());
  const Bits left = resized(a, width);
  const Bits right = resized(b, width);
  Literal at_most = always_true;  // of the places so far; a higher place that differs decides
  for (std::size_t place = 0; place < width; ++place) {
    at_most = gates.choose(gates.same(left[place], right[place]), at_most, right[place]);
  }
  return at_most;
}

}  // namespace detent::solver
