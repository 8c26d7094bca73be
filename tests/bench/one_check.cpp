// The least that a program with Z3 in it can do: the yardstick for the cost of starting.
#include <z3++.h>

int main() {
  z3::context context;
  z3::solver solver(context);
  const z3::expr x = context.int_const("x");
  solver.add(x > 1 && x < 3);
  return solver.check() == z3::sat ? 0 : 1;
}
