// A limit for what Z3 uses, for as long as a check takes.
#pragma once

#include <cstddef>
#include <optional>

#include "solver/satisfiability.hpp"

namespace detent::solver {

/// Holds Z3, in the whole process, to a number of mebibytes while it lives.
class MemoryLimit {
 public:
  explicit MemoryLimit(std::optional<std::size_t> mib) : set_(mib.has_value()) {
    // A little above the limit that is watched, so that the gentle way out comes first.
    if (set_) limit_solver_memory(*mib + *mib / 4 + 16);
  }
  ~MemoryLimit() {
    if (set_) limit_solver_memory({});
  }
  MemoryLimit(const MemoryLimit&) = delete;
  MemoryLimit& operator=(const MemoryLimit&) = delete;

 private:
  bool set_;
};

}  // namespace detent::solver
