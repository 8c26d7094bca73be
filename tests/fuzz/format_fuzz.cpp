// The fuzzer of the layout (libFuzzer): any bytes are a text. See layout.hpp for what must hold; that no word
// and no comment is lost, format_text looks at itself and throws.
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>

#include "tests/fuzz/layout.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto finding = detent::fuzz::check_layout(std::string(reinterpret_cast<const char*>(data), size));
  if (finding.broken_promise.empty()) return 0;
  std::fprintf(stderr, "broken promise: %s\n", finding.broken_promise.c_str());
  std::abort();
}
