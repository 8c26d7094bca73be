// The index of names, on every design that comes with the program: what each name means is what checking
// takes it for, and another name changes nothing but the name.
#include "dsl/name_index.hpp"

#include <algorithm>
#include <filesystem>
#include <map>
#include <set>
#include <sstream>

#include "cli/lsp/analysis.hpp"
#include "cli/reader.hpp"
#include "dsl/circuit.hpp"
#include "dsl/rename.hpp"
#include "dsl/walk.hpp"
#include "tests/lsp/talk.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chance.hpp"
#include "tests/support/design_generator.hpp"
#include "tests/support/shipped.hpp"

namespace detent::test {
namespace {

using dsl::Mention;
using dsl::NamedThing;
using dsl::NameIndex;
using dsl::NameSort;

dsl::Compiled compiled_file(const std::string& path) {
  return dsl::compile(path, cli::file_reader(path));
}

/// Everything that a model is, but for names.
std::string nameless(const dsl::Model& model) {
  std::ostringstream shape;
  for (const dsl::Node& node : model.circuit.nodes()) {
    shape << static_cast<int>(node.kind) << ' ' << node.a << ' ' << node.b << ' ' << node.c << ' '
          << node.number << ' ' << node.cap << ' ' << node.range.low << ' ' << node.range.high << '\n';
  }
  for (const dsl::CircuitInput& input : model.circuit.inputs()) {
    shape << input.node << ' ' << input.range.low << ' ' << input.range.high << ' ' << input.step << '\n';
  }
  for (const dsl::Claim& claim : model.claims) shape << claim.watch << ' ' << claim.premise << '\n';
  for (const dsl::Constraint& one : model.constraints) shape << one.node << '\n';
  for (const dsl::Signal& signal : model.signals) shape << signal.node << ' ' << signal.element << '\n';
  return shape.str();
}

std::size_t thing_at(const NameIndex& index, const dsl::Place& place) {
  const Mention* mention = index.at(place.file, place.begin);
  return mention == nullptr ? dsl::no_thing : mention->thing;
}

/// Where checking takes a name for an element, the index has to mean the place where that is declared. How
/// many such names there were.
std::size_t check_against_design(const dsl::Compiled& compiled, const NameIndex& index) {
  const dsl::Design& design = *compiled.design;
  std::size_t compared = 0;
  for (const dsl::Element& element : design.elements) {
    for (const dsl::Term* whole : dsl::terms_of(element.body)) {
      dsl::visit(*whole, [&](const dsl::Term& term) {
        if (term.op != dsl::TermOp::reference) return;
        const dsl::Element& meant = design.elements[term.element];
        const std::string text(compiled.sources.text(term.place));
        const std::string last = meant.name.substr(meant.name.rfind('.') + 1);
        if (meant.hidden || !text.ends_with(last)) return;
        const Mention* mention = index.at(term.place.file, term.place.end);
        INFO(text << " for " << meant.name);
        REQUIRE(mention != nullptr);
        CHECK(index.things[mention->thing].definition == meant.place);
        ++compared;
      });
    }
  }
  return compared;
}

void check_index(const dsl::Compiled& compiled, const NameIndex& index) {
  const Mention* last = nullptr;
  for (const Mention& mention : index.mentions) {
    CHECK(compiled.sources.text(mention.place) == index.things[mention.thing].name);
    if (last != nullptr && last->place.file == mention.place.file)
      CHECK(last->place.end <= mention.place.begin);
    last = &mention;
  }
  for (std::size_t thing = 0; thing < index.things.size(); ++thing) {
    const auto places = index.places_of(thing);
    CHECK(std::find(places.begin(), places.end(), index.things[thing].definition) != places.end());
    CHECK(thing_at(index, index.things[thing].definition) == thing);
  }
}

}  // namespace

TEST_CASE("every name of every shipped design means what checking takes it for", "[lsp][names]") {
  std::size_t compared = 0;
  for (const std::string& path : shipped_files()) {
    INFO(path);
    const dsl::Compiled compiled = compiled_file(path);
    const NameIndex index = dsl::index_names(compiled.tree, compiled.sources);
    check_index(compiled, index);
    if (compiled.design) compared += check_against_design(compiled, index);
  }
  CHECK(compared > 400);
}

TEST_CASE("and of designs by chance", "[lsp][names]") {
  std::size_t compared = 0;
  for (std::uint64_t seed = 0; seed < 150; ++seed) {
    INFO(seed);
    const dsl::Compiled compiled = dsl::compile_text("chance.detent", random_design(seed));
    const NameIndex index = dsl::index_names(compiled.tree, compiled.sources);
    check_index(compiled, index);
    if (compiled.design) compared += check_against_design(compiled, index);
  }
  CHECK(compared > 1'000);
}

TEST_CASE("with another name a shipped design is the same but for the name", "[lsp][names]") {
  Chance chance(17);
  std::size_t renamed = 0;
  for (const std::string& path : shipped_files()) {
    const dsl::Compiled before = compiled_file(path);
    if (!before.model) continue;
    const NameIndex index = dsl::index_names(before.tree, before.sources);
    for (int round = 0; round < 4 && !index.things.empty(); ++round) {
      const std::size_t thing = chance.below(index.things.size());
      INFO(path << ": " << index.things[thing].name);
      REQUIRE(dsl::rename_problem(before, index, thing, "quite_another_name").empty());
      std::map<std::string, std::string> texts;
      for (std::uint32_t file = 0; file < before.sources.size(); ++file) {
        texts[before.sources.name(file)] =
            dsl::renamed_text(before, index, thing, "quite_another_name", file);
      }
      const dsl::Compiled after = dsl::compile(before.sources.name(0), [&](const std::string& name) {
        return dsl::FileText{.text = texts.at(name)};
      });
      REQUIRE(after.model);
      CHECK(nameless(*after.model) == nameless(*before.model));
      CHECK(after.diagnostics.size() == before.diagnostics.size());
      const NameIndex again = dsl::index_names(after.tree, after.sources);
      CHECK(again.places_of(thing).size() == index.places_of(thing).size());
      ++renamed;
    }
  }
  CHECK(renamed > 100);
}

TEST_CASE("positions are those of their own switch", "[lsp][names]") {
  const std::string text =
      "tick 20 ms\nswitch one is up | run\nswitch two is run | safe\nsignal which = if two is run then one "
      "else previous(one, starting run)\n"
      "keep kept = which when two is safe starting up\noutput o = kept == run\nlink radio carries one, two "
      "lost: one run, two run\n"
      "stages s is run | off_now\n  run -> off_now when which is not run\n  off_now -> run when one is "
      "up\nclaim c: possible s is run\n";
  const dsl::Compiled compiled = dsl::compile_text("t", text);
  for (const auto& one : compiled.diagnostics) INFO(to_text(one, compiled.sources));
  REQUIRE(compiled.model);
  const NameIndex index = dsl::index_names(compiled.tree, compiled.sources);
  std::map<std::string, std::size_t> uses;
  for (const Mention& mention : index.mentions) {
    const NamedThing& thing = index.things[mention.thing];
    if (thing.sort == NameSort::position) ++uses[index.things[thing.owner].name + "." + thing.name];
  }
  CHECK(uses ==
        std::map<std::string, std::size_t>{
            {"one.up", 3}, {"one.run", 5}, {"two.run", 3}, {"two.safe", 2}, {"s.run", 4}, {"s.off_now", 3}});
}

TEST_CASE("names in parts, with dots and without", "[lsp][names]") {
  const std::string text =
      "tick 20 ms\ntunable T = 40 ms from 20 ms to 80 ms\nbutton x\npart inner(condition x)\n  pulse p on x "
      "for T\nend\n"
      "part outer(condition y, duration d)\n  use i = inner(y)\n  signal p = i.p and held(y, d)\nend\n"
      "use o = outer(x, T)\noutput q = o.p or o.i.p\nclaim c: possible q\n";
  const dsl::Compiled compiled = dsl::compile_text("t", text);
  REQUIRE(compiled.model);
  const NameIndex index = dsl::index_names(compiled.tree, compiled.sources);
  const auto count = [&](const std::string& line_start, const std::string& word) {
    const auto at = static_cast<std::uint32_t>(text.find(word, text.find(line_start)));
    return index.places_of(index.at(0, at)->thing).size();
  };
  CHECK(count("tunable T", "T") == 3);
  CHECK(count("button x", "x") == 2);
  CHECK(count("part inner", "x)") == 2);
  CHECK(count("  pulse p", "p on") == 3);  // i.p, o.i.p
  CHECK(count("  signal p", "p =") == 2);  // o.p
  CHECK(count("  use i", "i =") == 3);
  CHECK(count("use o", "o =") == 3);
}

TEST_CASE("a text with mistakes keeps the names that can be read", "[lsp][names]") {
  const std::string text =
      "tick 20 ms\nbutton good\nlatch broken set good\nsignal s = broken and good and missing\n";
  const dsl::Compiled compiled = dsl::compile_text("t", text);
  const NameIndex index = dsl::index_names(compiled.tree, compiled.sources);
  const auto at = [&](const std::string& word) {
    return index.at(0, static_cast<std::uint32_t>(text.rfind(word)));
  };
  REQUIRE(at("broken") != nullptr);
  CHECK(index.things[at("broken")->thing].sort == NameSort::broken);
  REQUIRE(at("good") != nullptr);
  CHECK(at("missing") == nullptr);
}

TEST_CASE("any text at all has an index", "[lsp][names]") {
  for (const auto& entry : std::filesystem::directory_iterator(DETENT_SOURCE_DIR "/tests/fuzz/corpus")) {
    const std::string path = entry.path().string();
    const dsl::FileText text = cli::file_reader(path)(path);
    if (!text.text) continue;
    const dsl::Compiled compiled = dsl::compile_text("t", *text.text);
    check_index(compiled, dsl::index_names(compiled.tree, compiled.sources));
  }
}

TEST_CASE("what would change a meaning is refused, with the reason", "[lsp][names]") {
  const std::string text =
      "tick 20 ms\ntunable T = 40 ms from 20 ms to 80 ms\nbutton a\nbutton b\nswitch s is up | mid\npart "
      "p(condition x)\n  pulse own on x for T\nend\n"
      "use u = p(a)\noutput o = u.own and b and s is up\nclaim c: possible o\nclaim d: possible a\n";
  const dsl::Compiled compiled = dsl::compile_text("t", text);
  REQUIRE(compiled.model);
  const NameIndex index = dsl::index_names(compiled.tree, compiled.sources);
  const auto problem = [&](const std::string& name, const std::string& other) {
    const auto found = std::find_if(index.things.begin(), index.things.end(),
                                    [&](const NamedThing& one) { return one.name == name; });
    return dsl::rename_problem(compiled, index, static_cast<std::size_t>(found - index.things.begin()),
                               other);
  };
  CHECK(problem("a", "z").empty());
  CHECK(problem("a", "b").find("declared twice") != std::string::npos);
  CHECK(problem("own", "x").find("declared twice") != std::string::npos);
  CHECK(problem("c", "d").find("declared twice") != std::string::npos);
  CHECK(problem("up", "mid") != "");
  CHECK(problem("mid", "down").empty());  // a position may be called so
  CHECK(problem("own", "T") != "");       // the part would no longer see the tunable
  CHECK(problem("a", "latch").find("word of the language") != std::string::npos);
  CHECK(problem("a", "down").find("word of the language") != std::string::npos);
  for (const char* bad : {"", "1a", "a b", "a.b", "a-b", "\xc3\xa4", "a\n"})
    CHECK(problem("a", bad).find("letters") != std::string::npos);
  CHECK(problem("a", std::string(81, 'x')).find("80") != std::string::npos);
  CHECK(problem("a", std::string(80, 'x')).empty());
}

}  // namespace detent::test
