// The grammar for highlighting knows the words that the language knows, no more and no fewer; and, where npm
// has brought what editors read such grammars with, every word of every design gets the scope of what the
// reader takes it for. The script is highlighting/scopes.mjs.
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>

#include "dsl/format/tokens.hpp"
#include "dsl/grammar.hpp"
#include "dsl/grammar/words.hpp"
#include "dsl/units.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/design_generator.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/other_solvers.hpp"
#include "tests/support/process.hpp"
#include "tests/support/shipped.hpp"

namespace detent::test {
namespace {

namespace fs = std::filesystem;
using dsl::format::Kind;
using dsl::format::Role;
using dsl::format::Tokens;
using nlohmann::json;

const std::string sources_of_rules = DETENT_SOURCE_DIR "/dsl/grammar/";
const std::string grammar_file = DETENT_SOURCE_DIR "/cli/editors/detent.tmLanguage.json";

std::string text_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

// ---- What words there are ----

std::set<std::string> known_words() {
  std::set<std::string> words;
  const auto add = [&](const auto& table) { words.insert(table.begin(), table.end()); };
  add(dsl::grammar::declaration_words);
  add(dsl::grammar::call_words);
  add(dsl::grammar::inner_words);
  add(dsl::grammar::place_words);
  return words;
}

std::set<std::string> words_in(const std::string& text, const std::regex& word) {
  std::set<std::string> words;
  for (std::sregex_iterator at(text.begin(), text.end(), word), end; at != end; ++at) words.insert((*at)[1]);
  return words;
}

/// Of the regular expressions of a grammar: what is left of them without their own signs.
void add_words(const json& rule, std::set<std::string>& words) {
  static const std::regex signs(R"(\\.|\[[^\]]*\]|\(\?(:|=|!|<!))");
  static const std::regex word(R"(([A-Za-z_]+|%))");
  for (const auto& [key, value] : rule.items()) {
    if (value.is_structured()) add_words(value, words);
    if (!value.is_string() || (key != "match" && key != "begin" && key != "end")) continue;
    words.merge(words_in(std::regex_replace(value.get<std::string>(), signs, " "), word));
  }
}

// ---- What a word is ----

bool is_place_word_in_place(const Tokens& tokens, std::size_t at) {
  const dsl::format::Token& token = tokens[at];
  const dsl::format::Token& last = tokens[at - 1];
  const std::string_view word = token.text;
  const std::string_view head = tokens[token.head].text;
  if (word == "carries") return head == "link" && (last.kind == Kind::text || at == token.head + 2);
  if (word == "lost") return head == "link" && tokens[at + 1].text == ":";
  if (word == "as") return last.text == ":" && tokens[at - 2].text == "lost";
  if (word == "before") return last.text == "as" && is_place_word_in_place(tokens, at - 1);
  if (word == "most" || word == "least") return last.text == "at";
  if (word == "per") return last.kind == Kind::unit || last.kind == Kind::number;
  if (word == "edges") return head == "power_up" && at == token.head + 1;
  if (word == "counted" || word == "ignored" || word == "either")
    return last.text == "edges" && head == "power_up";
  if (word == "off") return last.text == "starting" && head == "latch" && tokens[at - 2].text != ",";
  return head == "part" && (last.text == "(" || last.text == ",");
}

bool is_position(const Tokens& tokens, std::size_t at) {
  const std::string_view last = tokens[at - 1].text;
  if (last == "is" || last == "|" || last == "->") return tokens[at].text != "not";
  if (last == "not" && tokens[at - 2].text == "is") return true;
  if (tokens[at + 1].text == "->") return tokens[at].text != "any";
  if (!dsl::grammar::contains(dsl::grammar::position_words, tokens[at].text)) return false;
  if (tokens[at].begins_lost_value) return true;
  return last == "starting" && (tokens[tokens[at].head].text != "latch" || tokens[at - 2].text == ",");
}

const char* kind_of_word(const Tokens& tokens, std::size_t at) {
  const dsl::format::Token& token = tokens[at];
  if (token.role == Role::declaration || token.role == Role::part_end) return "declaration";
  if (token.text == "power_up") return "declaration";
  if (tokens[at - 1].text == "per" && is_place_word_in_place(tokens, at - 1)) return "unit";
  if (is_position(tokens, at)) return "position";
  if (dsl::grammar::contains(dsl::grammar::call_words, token.text)) return "call";
  if (dsl::grammar::is_reserved(token.text)) return "keyword";
  if (!dsl::grammar::contains(dsl::grammar::place_words, token.text)) return "name";
  return is_place_word_in_place(tokens, at) ? "keyword" : "name";
}

const char* kind_of(const Tokens& tokens, std::size_t at) {
  switch (tokens[at].kind) {
    case Kind::word:
      return kind_of_word(tokens, at);
    case Kind::number:
      return "number";
    case Kind::unit:
      return "unit";
    case Kind::text:
      return "text";
    case Kind::mark:
    case Kind::end_of_text:
      break;
  }
  return "mark";
}

/// UTF-16, as JavaScript counts.
std::size_t length_of(std::string_view text) {
  std::size_t length = 0;
  for (const char byte : text) {
    const auto code = static_cast<unsigned char>(byte);
    length += (code & 0xC0U) != 0x80U ? 1 : 0;
    length += code >= 0xF0U ? 1 : 0;
  }
  return length;
}

json place_of(const std::string& text, std::string_view word, const char* kind) {
  const auto at = static_cast<std::size_t>(word.data() - text.data());
  const std::size_t line = text.rfind('\n', at == 0 ? 0 : at - 1);
  const std::size_t begin = line == text.npos || at == 0 ? 0 : line + 1;
  const std::size_t column = length_of(std::string_view(text).substr(begin, at - begin));
  return {{"line", std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n')},
          {"begin", column},
          {"end", column + length_of(word)},
          {"kind", kind}};
}

/// The design with its words, or nothing where it can't be read. `seen`: what words of the language it has,
/// each as what.
json design_of(const std::string& name, const std::string& text, std::set<std::string>& seen) {
  dsl::Sources sources;
  dsl::Diagnostics diagnostics;
  const std::uint32_t file = sources.add(name, text);
  const dsl::Tree tree = dsl::parse(sources, file, diagnostics);
  if (dsl::has_errors(diagnostics)) return {};
  const std::string own(sources.text(file));
  const Tokens tokens = dsl::format::tokens_of(own, file, tree);
  json words = json::array();
  for (std::size_t at = 0; at + 1 < tokens.tokens.size(); ++at) {
    const char* kind = kind_of(tokens, at);
    words.push_back(place_of(own, tokens[at].text, kind));
    if (kind == std::string("name") || kind == std::string("position")) continue;
    seen.insert(std::string(tokens[at].text));
    seen.insert(kind);
  }
  for (const auto& comment : tokens.comments) words.push_back(place_of(own, comment.text, "comment"));
  return {{"name", name}, {"text", own}, {"words", words}};
}

std::vector<std::string> case_paths() {
  std::vector<std::string> paths;
  for (const auto& entry : fs::recursive_directory_iterator(DETENT_SOURCE_DIR "/tests/cases")) {
    const std::string stem = entry.path().stem().string();
    // An editor takes the byte order mark away.
    if (stem.starts_with("fail_") || stem == "byte_order_mark") continue;
    if (entry.path().extension() == ".detent") paths.push_back(entry.path().string());
  }
  return paths;
}

json all_designs(std::set<std::string>& seen) {
  json designs = json::array();
  const auto add = [&](const std::string& name, const std::string& text) {
    if (json design = design_of(name, text, seen); !design.empty()) designs.push_back(std::move(design));
  };
  for (const std::string& file : shipped_files()) add(file, text_of(file));
  for (const std::string& file : case_paths()) add(file, text_of(file));
  for (std::uint64_t seed = 0; seed < 60; ++seed) add("seed " + std::to_string(seed), random_design(seed));
  add("names",
      "tick 20 ms\nlink carries carries lost, as, off lost: lost 0 %, as on, off up\nlink as carries before "
      "lost: as before\n"
      "channel level from 0 to 3 step 1 moving at most 5 per s\nsignal per = level\nsignal before = count "
      "and least\n"
      "latch off set previous(m, starting off) is reset reset edges starting off\nlatch l set a reset b "
      "starting on\n"
      "keep k = a when b starting on\nuse u = part_of(condition, duration)\nclaim min_is: off lasts at least "
      "3 min\n"
      "part part_of(condition condition, duration level, level count, count duration)\n  button either\nend\n"
      "power_up edges either\nstages m is on | off\n  on -> off after 1 tick\n  any -> on when u.a.b is not "
      "set\n");
  return designs;
}

// ---- What npm brings ----

/// Where .ci/install puts it; DETENT_HIGHLIGHTING_MODULES names another folder.
std::string modules_folder() {
  const auto variable = [](const char* name) {
    const char* value = std::getenv(name);  // NOLINT(concurrency-mt-unsafe)
    return std::string(value == nullptr ? "" : value);
  };
  if (const std::string told = variable("DETENT_HIGHLIGHTING_MODULES"); !told.empty()) return told;
  const std::string cache = variable("XDG_CACHE_HOME");
  return (cache.empty() ? variable("HOME") + "/.cache" : cache) + "/detent/highlighting/node_modules";
}

std::string missing_here(const std::string& modules) {
  std::string missing = installed("node") ? "" : "node is not installed; ";
  for (const char* module : {"vscode-textmate", "vscode-oniguruma"}) {
    if (!fs::exists(modules + "/" + module)) missing += modules + " has no " + std::string(module) + "; ";
  }
  return missing;
}

}  // namespace

TEST_CASE("the tables of words are those that the rules of the language are written with", "[highlighting]") {
  std::string rules;
  for (const char* file : {"declarations.hpp", "expressions.hpp", "operators.hpp"})
    rules += text_of(sources_of_rules + file);
  rules += text_of(DETENT_SOURCE_DIR "/dsl/grammar.cpp") + text_of(DETENT_SOURCE_DIR "/dsl/reading.cpp");
  std::set<std::string> used =
      words_in(rules, std::regex(R"re((?:word|named|take_word|take_operator)\((?:at, |first, )?"([a-z_]+)")re"));
  used.merge(words_in(rules, std::regex(R"re(word == "([a-z_]+)")re")));
  CHECK(used == known_words());
}

TEST_CASE("the grammar for highlighting has the words and units of the language, and no others",
          "[highlighting]") {
  std::set<std::string> expected = known_words();
  for (const std::string& unit : dsl::all_units()) expected.insert(unit);
  std::set<std::string> words;
  add_words(json::parse(text_of(grammar_file)), words);
  CHECK(words == expected);
}

TEST_CASE("each scope ends in the name of the language", "[highlighting]") {
  const std::string text = text_of(grammar_file);
  CHECK(json::parse(text)["scopeName"] == "source.detent");
  const std::set<std::string> names = words_in(text, std::regex(R"re("name": "([^"]*)")re"));
  REQUIRE(names.size() > 20);
  for (const std::string& name : names) CHECK((name == "detent" || name.ends_with(".detent")));
}

TEST_CASE("every word of every design is highlighted as what it is", "[highlighting]") {
  std::set<std::string> seen;
  const json designs = all_designs(seen);
  CHECK(designs.size() > 150);
  // Nothing of the language is left out of the comparison.
  for (const std::string& word : known_words()) {
    INFO(word);
    CHECK(seen.contains(word));
  }
  for (const std::string& unit : dsl::all_units()) {
    INFO(unit);
    CHECK(seen.contains(unit));
  }
  const std::string modules = modules_folder();
  if (const std::string missing = missing_here(modules); !missing.empty()) {
    WARN(missing << "the highlighting is not looked at (.ci/install with-tests)");
    return;
  }
  const Folder folder;
  const std::string file = folder.write("designs.json", designs.dump());
  const ProcessResult result =
      run_process({*installed("node"), DETENT_SOURCE_DIR "/tests/cli/highlighting/scopes.mjs", modules,
                   grammar_file, file});
  INFO(result.output << result.errors);
  CHECK(result.status == 0);
  CHECK(result.output.find("all as it should be") != std::string::npos);
}

}  // namespace detent::test
