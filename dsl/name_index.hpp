// All names of a text: what declares them, and every place that means them. Made of the syntax tree alone, so
// that there is an index while a text still has mistakes: what a declaration with a mistake of grammar was
// about to declare is known, what it mentions is not.
#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include "dsl/source.hpp"
#include "dsl/tree.hpp"

namespace detent::dsl {

enum class NameSort {
  element,  ///< an input, an element or an output
  tunable,
  part,
  use,        ///< a part in use: g of `use g = edge(x)`
  parameter,  ///< of a part
  claim,
  assumption,
  position,  ///< of a switch, or a stage
  broken,    ///< a declaration that could not be read
};

inline constexpr std::size_t no_thing = std::numeric_limits<std::size_t>::max();

/// Something with a name.
struct NamedThing {
  std::string name;
  NameSort sort = NameSort::element;
  /// The word that declares it: "channel", "claim", …; of a parameter its kind, of a position that of its
  /// owner.
  std::string keyword;
  Place definition;                          ///< of the name
  Place whole;                               ///< of the declaration that it stands in
  std::size_t part = no_thing;               ///< the part that it is declared in
  std::size_t owner = no_thing;              ///< position: whose
  const Declaration* declaration = nullptr;  ///< in the tree; null for what is broken
};

/// A place with a name in it, and what it means. Of `g.ok` there are two.
struct Mention {
  Place place;
  std::size_t thing = no_thing;  ///< index into NameIndex::things
  bool definition = false;
};

/// Holds pointers into the tree that it was made of.
struct NameIndex {
  std::vector<NamedThing> things;
  std::vector<Mention> mentions;  ///< in order of file and place; none lies in another

  /// The name at a byte, or right before it; null if there is none.
  [[nodiscard]] const Mention* at(std::uint32_t file, std::uint32_t offset) const;
  /// Every place that means it, its definition too.
  [[nodiscard]] std::vector<Place> places_of(std::size_t thing) const;
  /// The part in whose text the byte stands, or no_thing.
  [[nodiscard]] std::size_t part_at(std::uint32_t file, std::uint32_t offset) const;
  /// What can be called by its name alone in this part, or outside of all (no_thing). No claims, no
  /// positions.
  [[nodiscard]] std::vector<std::size_t> seen_in(std::size_t part) const;
  /// What stands in this part and can be called `g.name` by those who use it as g.
  [[nodiscard]] std::vector<std::size_t> offered_by(std::size_t part) const;
  /// Positions or stages of an element, in order.
  [[nodiscard]] std::vector<std::size_t> positions_of(std::size_t element) const;
  /// The part that `use` puts in, or no_thing.
  [[nodiscard]] std::size_t part_used(std::size_t use) const;
  /// What a name, dotted or not, means in this part or outside of all; no_thing if nothing.
  [[nodiscard]] std::size_t find(std::size_t part, const std::string& name) const;
};

/// The switch or the stages of whose positions a named value is one, followed through signals; no_thing if of
/// none.
[[nodiscard]] std::size_t whose_positions(const NameIndex& index, std::size_t thing);

[[nodiscard]] NameIndex index_names(const Tree& tree, const Sources& sources);

}  // namespace detent::dsl
