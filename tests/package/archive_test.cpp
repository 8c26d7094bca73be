// What a library must not do cannot be seen by running it, so its symbols are looked at: what it asks of
// others, and what it keeps that can be written to. `nm` of binutils (its format "sysv":
// name|value|class|type|size|line|section).
#include <regex>
#include <sstream>
#include <string>
#include <vector>

#include "tests/support/catch.hpp"
#include "tests/support/process.hpp"

namespace detent::test {
namespace {

struct Symbol {
  std::string file;  ///< the object file, as far as nm names it
  std::string name;
  char kind = ' ';  ///< as nm has it: U is asked of others
  std::string section;
};

std::string trimmed(const std::string& text) {
  const std::size_t first = text.find_first_not_of(' ');
  return first == text.npos ? "" : text.substr(first, text.find_last_not_of(' ') - first + 1);
}

std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> cells;
  std::istringstream text(line);
  for (std::string cell; std::getline(text, cell, '|');) cells.push_back(trimmed(cell));
  return cells;
}

std::vector<Symbol> symbols() {
  const ProcessResult result = run_shell("nm -f sysv -C " DETENT_LIBRARIES);
  INFO(result.errors);
  REQUIRE(result.status == 0);
  std::vector<Symbol> symbols;
  std::string file;
  std::istringstream lines(result.output);
  for (std::string line; std::getline(lines, line);) {
    if (line.find("ymbols from") != line.npos) file = line;
    const std::vector<std::string> cells = cells_of(line);
    // A name may have the separator in it ("operator||"), so the rest is counted from the end.
    if (cells.size() < 6 || cells[0] == "Name") continue;
    const std::size_t columns = line.back() == '|' ? 6 : 7;
    if (cells.size() < columns) continue;
    const std::string& kind = cells[cells.size() - columns + 2];
    symbols.push_back({file, cells[0], kind.empty() ? ' ' : kind[0], columns == 7 ? cells.back() : ""});
  }
  return symbols;
}

}  // namespace

TEST_CASE("the libraries end no program, write nothing, open nothing and leave signals alone") {
  // Names as the C and C++ standards and POSIX have them, with what the GNU library calls in their place.
  const std::regex forbidden(
      "(_?_?exit|_Exit|quick_exit|at_quick_exit|abort|std::terminate\\(\\)|raise|kill|"
      "v?f?d?printf|__v?f?d?printf_chk|puts|putchar|putc|fputs|fputc|fwrite|perror|psignal|"
      "std::(cout|cerr|clog|wcout|wcerr|wclog|cin)|"
      "f?open(64)?|creat|write|read|fread|std::(__cxx11::)?basic_[io]?f(stream|ilebuf).*|"
      "signal|sigaction|pthread_sigmask|sigprocmask|system|fork|v?exec[lvpe]+|popen|"
      "setlocale|std::locale::global.*|setenv|unsetenv|putenv|getenv|secure_getenv|"
      "srand|s?random|rand|chdir|atexit)(@.*)?");
  std::size_t asked = 0;
  for (const Symbol& symbol : symbols()) {
    if (symbol.kind != 'U') continue;
    ++asked;
    INFO(symbol.file << ' ' << symbol.name);
    CHECK_FALSE(std::regex_match(symbol.name, forbidden));
  }
  CHECK(asked > 500);  // nm said something
}

TEST_CASE("the libraries keep nothing that can be written to") {
  // Sections that a running program can write to. (.data.rel.ro is written once, by the loader.)
  const std::regex writable("\\.(data|bss|tdata|tbss|ldata|lbss)(\\.(?!rel\\.ro).*)?|\\*COM\\*");
  for (const Symbol& symbol : symbols()) {
    if (!std::regex_match(symbol.section, writable)) continue;
    INFO(symbol.file << ' ' << symbol.name << ' ' << symbol.section);
    FAIL_CHECK("something that can be written to");
  }
}

}  // namespace detent::test
