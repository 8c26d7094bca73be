// The solver's version, asked of the library that is loaded, not of its header.
#include "solver/version.hpp"

#include <z3++.h>

namespace detent::solver {

std::string solver_version() {
  unsigned major = 0;
  unsigned minor = 0;
  unsigned build = 0;
  unsigned revision = 0;
  Z3_get_version(&major, &minor, &build, &revision);
  return std::to_string(major) + '.' + std::to_string(minor) + '.' + std::to_string(build) + '.' +
         std::to_string(revision);
}

}  // namespace detent::solver
