// The door. Everything else is a library, so that tests can call it.
#include "cli/app.hpp"

int main(int argc, char* argv[]) {
  return detent::cli::run(argc, argv);
}
