// By libmd, which comes with every Debian: its package manager needs it too.
#include "cli/digest.hpp"

#include <sha256.h>

#include <array>
#include <cstdint>

namespace detent::cli {

std::string sha256(std::string_view text) {
  std::array<char, SHA256_DIGEST_STRING_LENGTH> digits{};
  SHA256Data(reinterpret_cast<const std::uint8_t*>(text.data()), text.size(), digits.data());
  return digits.data();
}

}  // namespace detent::cli
