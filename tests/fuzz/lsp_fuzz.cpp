// The fuzzer's way in to the language server (libFuzzer): any bytes are what a client sends, or a text that
// is open in an editor. See talk_over.hpp for what must hold.
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>

#include "tests/fuzz/talk_over.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string broken = detent::fuzz::talk_over({reinterpret_cast<const char*>(data), size});
  if (broken.empty()) return 0;
  std::fprintf(stderr, "broken promise: %s\n", broken.c_str());
  std::abort();
}
