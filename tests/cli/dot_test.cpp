// Pictures for Graphviz, read by its own program dot: the nodes and lines that it finds against the design's,
// and labels as it draws them.
//
// Checked: pictures in the DOT language, read by Graphviz itself | Graphviz | as installed
#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "cli/export/dot.hpp"
#include "dsl/front.hpp"
#include "solver/slice.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/outside.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"
#include "tests/support/shipped.hpp"

namespace detent::test {
namespace {

using nlohmann::json;

/// What dot makes of the text, in its JSON form ("json0": as read and laid out); a complaint fails the test.
json read_by_dot(const std::string& text) {
  const auto dot = needed("dot", "graphviz");
  if (!dot) {
    WARN("Graphviz is not installed; it was not asked");
    return nullptr;
  }
  const Folder folder;
  const std::string file = folder.write("design.dot", text);
  const ProcessResult drawn = run_process({*dot, "-Tsvg", "-o", folder.path() + "/design.svg", file});
  CHECK(drawn.status == 0);
  CHECK(drawn.errors == "");
  const ProcessResult read = run_process({*dot, "-Tjson0", file});
  REQUIRE(read.status == 0);
  return json::parse(read.output);
}

std::size_t clusters_in(const json& graph) {
  std::size_t count = 0;
  for (const json& object : graph.value("objects", json::array())) {
    count += object["name"].get<std::string>().starts_with("cluster") ? 1 : 0;
  }
  return count;
}

std::set<std::string> nodes_in(const json& graph) {
  std::set<std::string> names;
  for (const json& object : graph.value("objects", json::array())) {
    const bool part = object.contains("nodes") || object.contains("subgraphs");
    const std::string name = object["name"];
    if (!part && !name.starts_with("%")) names.insert(name);  // "%7" is a group that dot gives a name to
  }
  return names;
}

dsl::Compiled design(const std::string& text) {
  dsl::Compiled compiled = dsl::compile_text("x.detent", text);
  REQUIRE(compiled.model);
  return compiled;
}

}  // namespace

TEST_CASE("the elements of every shipped design, as dot reads them", "[export][dot]") {
  for (const std::string& file : shipped_files()) {
    const dsl::Compiled compiled = compile_changed(file, [](std::string text) { return text; });
    if (!compiled.model || compiled.model->signals.empty()) continue;
    INFO(file);
    std::set<std::string> expected;
    for (const dsl::Signal& signal : compiled.model->signals) {
      if (signal.element != "power_up") expected.insert(signal.name);
    }
    const json graph = read_by_dot(cli::elements_dot(compiled));
    if (graph.is_null()) return;
    CHECK(nodes_in(graph) == expected);
  }
}

TEST_CASE("circuits, whole and what one claim depends on", "[export][dot]") {
  for (const char* name : {"boat/pump_jet.detent", "winch/camera_winch.detent", "functions/muting.detent"}) {
    INFO(name);
    const dsl::Compiled compiled = compile_changed(std::string(DETENT_SOURCE_DIR "/specs/") + name,
                                                   [](std::string text) { return text; });
    REQUIRE(compiled.model);
    const dsl::Circuit& circuit = compiled.model->circuit;
    const json whole = read_by_dot(cli::circuit_dot(compiled, {}));
    if (whole.is_null()) return;
    CHECK(nodes_in(whole).size() == circuit.nodes().size());
    std::size_t operands = 0;
    for (const dsl::Node& node : circuit.nodes()) {
      for (const dsl::NodeId id : {node.a, node.b, node.c}) operands += id != dsl::no_node ? 1 : 0;
    }
    CHECK(whole["edges"].size() == operands);
    const std::vector<bool> wanted = solver::influence(circuit, {compiled.model->claims[0].watch});
    CHECK(nodes_in(read_by_dot(cli::circuit_dot(compiled, 0))).size() ==
          static_cast<std::size_t>(std::count(wanted.begin(), wanted.end(), true)));
  }
}

TEST_CASE("sentences of a design mean nothing to dot", "[export][dot]") {
  const std::string nasty = "]; x -> y; \\N \" <b> &lt; {|} // /* #\n\x1b";
  dsl::Compiled compiled =
      design("tick 20 ms\nbutton node\nswitch graph is edge | strict\nsignal digraph_ = node\n");
  compiled.model->title = nasty;
  for (dsl::Signal& signal : compiled.model->signals) signal.doc = nasty;
  const std::string text = cli::elements_dot(compiled);
  const json graph = read_by_dot(text);
  if (graph.is_null()) return;
  CHECK(nodes_in(graph) == std::set<std::string>{"node", "graph", "digraph_"});
  CHECK(graph["edges"].size() == 1);
  const auto dot = *needed("dot", "graphviz");
  const Folder folder;
  const std::string svg = run_process({dot, "-Tsvg", folder.write("x.dot", text)}).output;
  // As HTML writes it, the sentence stands there as it is in the design.
  CHECK(has(svg, "]; x &#45;&gt; y; \\N &quot; &lt;b&gt; &amp;lt; {|} // /* #"));
}

TEST_CASE("parts are clusters, also in parts", "[export][dot]") {
  const dsl::Compiled compiled = design(R"(tick 20 ms
button a
part inner(condition x)
  signal now = x
  signal then_ = previous(now)
end
part outer(condition x)
  use i = inner(x)
  signal both = i.now and i.then_
end
use o = outer(a)
signal out_ = o.both
)");
  const json graph = read_by_dot(cli::elements_dot(compiled));
  if (graph.is_null()) return;
  CHECK(clusters_in(graph) == 2);
  CHECK(nodes_in(graph) == std::set<std::string>{"a", "o.i.now", "o.i.then_", "o.both", "out_"});
}

}  // namespace detent::test
