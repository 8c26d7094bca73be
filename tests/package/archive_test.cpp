// What a library must not do cannot be seen by running it, so its symbols are looked at: what it asks of
// others, and what it keeps that can be written to. `nm` of binutils (its format "sysv":
// name|value|class|type|size|line|section).
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>
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
    if (cells.size() < 6 || cells[0] == "Name") continue;
    // A name may have the separator in it ("operator||"); such a one is a function of ours or of the standard
    // library.
    if (cells.size() > 7 || cells[2].size() != 1) continue;
    symbols.push_back({file, cells[0], cells[2][0], cells.size() == 7 ? cells[6] : ""});
  }
  return symbols;
}

/// What the grammar's sources declare as constants, by name.
std::set<std::string> grammar_constants() {
  const std::regex declaration("\\bconst (?:auto|x3::rule<[^;=]*>) ([a-z_]+)(?: =|\\{|\\()");
  std::set<std::string> names;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(DETENT_SOURCE_DIR "/dsl")) {
    if (!entry.is_regular_file() || entry.path().string().find("grammar") == std::string::npos) continue;
    std::ifstream file(entry.path());
    const std::string text(std::istreambuf_iterator<char>(file), {});
    for (std::sregex_iterator found(text.begin(), text.end(), declaration), end; found != end; ++found) {
      names.insert((*found)[1].str());
    }
  }
  return names;
}

/// Sections that a running program can write to. (.data.rel.ro is written once, by the loader.)
bool is_writable(const std::string& section) {
  if (section == "*COM*") return true;
  for (const std::string name : {".data", ".bss", ".tdata", ".tbss"}) {
    if (section == name || section.starts_with(name + '.')) return !section.starts_with(".data.rel.ro");
  }
  return false;
}

/// Why something that lies among what can be written to is no state, or "".
std::string reason(const std::string& name, const std::set<std::string>& constants) {
  if (name.starts_with("DW.ref.")) return "the compiler's own: where the types of exceptions are";
  if (name == "std::__ioinit")
    return "the standard library's own, brought by <iostream>, which z3++.h includes";
  if (name.ends_with("boost::none")) return "a constant of Boost's that it makes at the start";
  // Boost.Spirit's rules are constants with constructors, so that they can't lie among what is read only.
  const std::string rules = "detent::dsl::grammar::";
  if (name.starts_with(rules + "parse_rule<")) return "a constant in a function: BOOST_SPIRIT_DEFINE";
  if (name.starts_with(rules) && constants.contains(name.substr(rules.size())))
    return "a constant of the grammar";
  return {};
}

}  // namespace

TEST_CASE("the libraries end no program, write nothing, open nothing and leave signals alone") {
  // Names as the C and C++ standards and POSIX have them, with what the GNU library calls in their place.
  // Left out, for every C++ program may ask for them: std::terminate (the destructor of a thread that nobody
  // joined; none here), and snprintf, by which fmt makes texts of numbers.
  const std::regex forbidden(
      "(_?_?exit|_Exit|quick_exit|at_quick_exit|abort|__assert_fail|raise|kill|"
      "v?f?d?printf|__v?f?d?printf_chk|puts|putchar|putc|fputs|fputc|fwrite|perror|psignal|"
      "std::(cout|cerr|clog|wcout|wcerr|wclog|cin)|fmt::v\\d+::v?print.*|"
      "f?open(64)?|creat|write|read|fread|std::(__cxx11::)?basic_[io]?f(stream|ilebuf).*|"
      "signal|sigaction|pthread_sigmask|sigprocmask|system|fork|v?exec[lvpe]+|popen|"
      "setlocale|std::locale::global.*|setenv|unsetenv|putenv|getenv|secure_getenv|"
      "srand|s?random|rand|chdir)(@.*)?");
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
  if (!std::string(DETENT_CXX_FLAGS).empty()) {
    WARN("left out: what sanitizers and coverage count with lies in the libraries");
    return;
  }
  const std::set<std::string> constants = grammar_constants();
  std::size_t looked_at = 0;
  for (const Symbol& symbol : symbols()) {
    if (!is_writable(symbol.section)) continue;
    ++looked_at;
    const std::string guard = "guard variable for ";
    const bool guards = symbol.name.starts_with(guard);
    INFO(symbol.file << ' ' << symbol.name << ' ' << symbol.section);
    CHECK_FALSE(reason(guards ? symbol.name.substr(guard.size()) : symbol.name, constants).empty());
  }
  CHECK(looked_at > 50);  // the grammar's
}

}  // namespace detent::test
