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
  Sources sources;               ///< the texts
  Diagnostics diagnostics;       ///< errors and warnings
  Tree tree;                     ///< what could be read
  std::optional<Design> design;  ///< what the model was made from; absent where the model is
  std::optional<Model> model;    ///< absent if there is any error among the diagnostics
};

/// Reads `path`, and what it includes, by `read`, and takes it all the way to a model. Never throws for what
/// is in the files; only what `read` throws, and std::bad_alloc. Any number of threads may compile at the
/// same time.
[[nodiscard]] Compiled compile(const std::string& path, const FileReader& read);

/// The same for a single text that is already at hand; `include` then finds nothing. `name` is what messages
/// call it.
[[nodiscard]] Compiled compile_text(const std::string& name, const std::string& text);

}  // namespace detent::dsl
