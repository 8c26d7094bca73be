// The whole front end in one call: file -> tree -> checked design -> circuit and claims.
#pragma once

#include <optional>
#include <string>

#include "dsl/design.hpp"
#include "dsl/diagnostics.hpp"
#include "dsl/load.hpp"
#include "dsl/model.hpp"
#include "dsl/source.hpp"
#include "dsl/tree.hpp"

namespace detent::dsl {

/// What became of a text. Diagnostics are sorted by place; places refer to `sources`.
struct Compiled {
  Sources sources;
  Diagnostics diagnostics;
  Tree tree;
  std::optional<Design> design;  ///< what the model was made from; absent where the model is
  std::optional<Model> model;    ///< absent if there is any error among the diagnostics
};

/// Never throws for what is in the files.
[[nodiscard]] Compiled compile(const std::string& path, const FileReader& read);

/// The same for a single text that is already at hand; `include` then finds nothing.
[[nodiscard]] Compiled compile_text(const std::string& name, const std::string& text);

}  // namespace detent::dsl
