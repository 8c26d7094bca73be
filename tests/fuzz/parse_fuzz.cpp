// The fuzzer's way in (libFuzzer): any bytes are a text. See exercise.hpp for what must hold.
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>

#include "tests/fuzz/exercise.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto finding = detent::fuzz::exercise({reinterpret_cast<const char*>(data), size});
  if (finding.broken_promise.empty()) return 0;
  std::fprintf(stderr, "broken promise: %s\n", finding.broken_promise.c_str());
  std::abort();
}
