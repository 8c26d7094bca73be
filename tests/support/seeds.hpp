// Which random designs a test looks at.
#pragma once

#include <cstdint>
#include <cstdlib>
#include <string>

namespace detent::test {

struct Seeds {
  std::uint64_t first = 0;
  std::uint64_t count = 0;
};

/// `usual` designs from seed 0 on; DETENT_RANDOM_DESIGNS=10000 for more, DETENT_RANDOM_FIRST=17 for others.
inline Seeds seeds(std::uint64_t usual) {
  const char* const count = std::getenv("DETENT_RANDOM_DESIGNS");  // NOLINT(concurrency-mt-unsafe)
  const char* const first = std::getenv("DETENT_RANDOM_FIRST");    // NOLINT(concurrency-mt-unsafe)
  return {first == nullptr ? 0 : std::stoull(first), count == nullptr ? usual : std::stoull(count)};
}

}  // namespace detent::test
