// A strict reader of value change dumps: stricter than any viewer, which makes do with whatever it is given.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

namespace detent::test {

struct Dump {
  std::string timescale;                          ///< "1 us"
  std::map<std::string, std::string> kinds = {};  ///< "wire 1", "integer 64", by full name: "design.guard.ok"
  using Changes = std::map<std::int64_t, std::string>;
  std::map<std::string, Changes> values = {};  ///< by full name: binary digits as written, by time
  std::int64_t end = 0;                        ///< the last time that is named
};

/// Syntax of four-state dumps: IEEE 1364-2005 clause 18 (as reproduced in secondary sources). Throws
/// std::runtime_error at the first thing that is not right: an unknown keyword, a code declared twice or not
/// at all, a variable of a name that is taken, a time that does not go up, a vector longer than its variable,
/// a variable without a value at time 0.
[[nodiscard]] Dump read_vcd(const std::string& text);

}  // namespace detent::test
