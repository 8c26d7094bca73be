// The solver's version, asked of the library that is loaded, and that of its header.
#include "solver/version.hpp"

#include <z3++.h>
#include <z3_version.h>

namespace detent::solver {
namespace {

std::string joined(unsigned major, unsigned minor, unsigned build, unsigned revision) {
  return std::to_string(major) + '.' + std::to_string(minor) + '.' + std::to_string(build) + '.' +
         std::to_string(revision);
}

}  // namespace

std::string solver_version() {
  unsigned major = 0;
  unsigned minor = 0;
  unsigned build = 0;
  unsigned revision = 0;
  Z3_get_version(&major, &minor, &build, &revision);
  return joined(major, minor, build, revision);
}

std::string compiled_solver_version() {
  return joined(Z3_MAJOR_VERSION, Z3_MINOR_VERSION, Z3_BUILD_NUMBER, Z3_REVISION_NUMBER);
}

}  // namespace detent::solver
