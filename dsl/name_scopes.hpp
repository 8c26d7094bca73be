// The names of a text by where they can be called. Private to the index.
//
// A part sees what it is given, what it declares, and of the file only parts and tunables (dsl/scope.hpp says
// the same for a part in use; here a part is looked at once, however often it is used).
#pragma once

#include <map>
#include <string>
#include <vector>

#include "dsl/name_index.hpp"

namespace detent::dsl {

class NameScopes {
 public:
  explicit NameScopes(const std::vector<NamedThing>& things);

  /// What is called so by those in this part, or outside of all parts; no_thing if nothing.
  [[nodiscard]] std::size_t seen(std::size_t part, const std::string& name) const;
  /// What is declared in this part, or outside of all.
  [[nodiscard]] std::size_t declared(std::size_t part, const std::string& name) const;
  /// The same for a name with dots in it.
  [[nodiscard]] std::size_t find(std::size_t part, const std::string& name) const;
  /// What `g.name` means, where g is this use of a part.
  [[nodiscard]] std::size_t inside(std::size_t use, const std::string& name) const;
  [[nodiscard]] std::size_t part_used(std::size_t use) const;
  /// The position of a switch or of stages.
  [[nodiscard]] std::size_t position(std::size_t owner, const std::string& name) const;

 private:
  using Names = std::map<std::pair<std::size_t, std::string>, std::size_t>;
  const std::vector<NamedThing>& things_;
  Names declared_;   ///< by part
  Names positions_;  ///< by owner
};

}  // namespace detent::dsl
