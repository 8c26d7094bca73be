// What is promised of every text that is laid out afresh, whatever stands in it: in the fuzzer and in the
// ordinary tests.
#pragma once

#include <optional>
#include <string>
#include <utility>

#include "dsl/circuit.hpp"
#include "dsl/format.hpp"
#include "dsl/front.hpp"
#include "tests/fuzz/exercise.hpp"

namespace detent::fuzz {

inline std::optional<std::string> formatted(const std::string& text) {
  dsl::Sources sources;
  sources.add("layout", text);
  dsl::Diagnostics diagnostics;
  return dsl::format_text(sources, 0, diagnostics);
}

/// All that a design is but for its places: the tree as written, each node of the circuit, each signal, each
/// claim.
inline std::string meaning_of(const dsl::Compiled& compiled) {
  std::string meaning = to_text(compiled.tree);
  if (!compiled.model) return meaning;
  meaning += dsl::to_text(compiled.model->circuit, [](dsl::NodeId) { return std::string(); });
  for (const dsl::Signal& signal : compiled.model->signals) {
    meaning += signal.name + " \"" + signal.doc + "\" " + std::to_string(signal.node) + "\n";
  }
  for (const dsl::Claim& claim : compiled.model->claims) {
    meaning += claim.name + " \"" + claim.doc + "\" " + std::to_string(claim.watch) + "\n";
  }
  return meaning;
}

/// Lays the text out and compares. `compile` makes a design of it.
template <class Compile>
Finding check_layout(const std::string& text, Compile compile) {
  const std::optional<std::string> once = formatted(text);
  if (!once) return {};
  if (formatted(*once) != once) return {"laid out twice it is another text"};
  const dsl::Compiled before = compile(text);
  const dsl::Compiled after = compile(*once);
  if (before.model.has_value() != after.model.has_value()) return {"a design and no design"};
  if (meaning_of(before) != meaning_of(after)) return {"another meaning"};
  if (before.diagnostics.size() != after.diagnostics.size()) return {"other messages"};
  return {};
}

inline Finding check_layout(const std::string& text) {
  return check_layout(text, [](const std::string& each) { return dsl::compile_text("layout", each); });
}

}  // namespace detent::fuzz
