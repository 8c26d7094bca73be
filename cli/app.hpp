// The program: command line in, exit status out.
#pragma once

namespace detent::cli {

[[nodiscard]] int run(int argc, const char* const* argv);

}  // namespace detent::cli
