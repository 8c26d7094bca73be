// Names and what they stand for. Private to checking.
//
// A part has a scope of its own for each use of it: it sees its arguments, its own elements, and of the file
// only parts and tunables. An argument that is a value becomes an element that is not shown, evaluated once.
#pragma once

#include <cstddef>
#include <deque>
#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "dsl/design.hpp"
#include "dsl/diagnostics.hpp"
#include "dsl/tree.hpp"
#include "dsl/units.hpp"

namespace detent::dsl {

/// What every step of checking needs at hand.
struct CheckContext {
  const Sources& sources;
  Diagnostics& diagnostics;
  Picoseconds tick = 0;           ///< 0: not known, and that has been reported
  std::size_t unknown_names = 0;  ///< that have been reported

  void report(Code code, const Place& place, std::string message, std::string mend = "",
              std::vector<Note> notes = {}) {
    diagnostics.push_back({code, place, std::move(message), std::move(mend), std::move(notes)});
  }
};

struct Scope;
struct ElementBinding {
  std::size_t index = 0;
};
struct TunableBinding {
  const Declaration* declaration = nullptr;
};
/// A duration that was given to a part; empty if it was wrong, which has been reported.
struct DurationBinding {
  std::optional<Picoseconds> length = {};
};
struct PartBinding {
  const Declaration* declaration = nullptr;
};
/// A part in use; null if it could not be put in, which has been reported.
struct UseBinding {
  const Scope* inner = nullptr;
};

/// A name whose declaration could not be read, which has been reported.
struct BrokenBinding {};

struct Bound {
  std::variant<BrokenBinding, ElementBinding, TunableBinding, DurationBinding, PartBinding, UseBinding>
      binding;
  Place place;
  mutable bool used = false;  ///< something has asked for it by its name
};

struct Scope {
  const Scope* file = nullptr;  ///< the file's scope; null for the file's scope itself
  std::string prefix = {};      ///< "g." in the part that is used as g
  std::map<std::string, Bound> names = {};
};

/// An element that is declared but not checked yet.
struct PendingElement {
  std::string name;
  Place place;
  const Scope* scope = nullptr;
  const Declaration* declaration = nullptr;  ///< null for an argument of a part
  const Expr* argument = nullptr;
  ParameterKind parameter = ParameterKind::condition;
};

struct Statement {
  const Declaration* declaration = nullptr;
  const Scope* scope = nullptr;
};

/// A part in use at the top of the file, and the elements [begin, end) that it brought.
struct PartInUse {
  Name name;
  std::size_t begin = 0;
  std::size_t end = 0;
  bool claims = false;
};

/// All declarations of a design, parts put in, sorted by what they are. Holds pointers into the tree.
struct Collected {
  std::deque<Scope> scopes;  ///< the first is the file's
  std::vector<PendingElement> elements;
  std::vector<Statement> claims, assumptions, at_power_up, tunables;
  std::vector<PartInUse> parts_in_use;
  std::string title;
  EdgeRule edges = EdgeRule::counted;
};

/// Also settles context.tick.
[[nodiscard]] Collected collect(const Tree& tree, CheckContext& context);

/// What a name, dotted or not, stands for in a scope; reports and returns null if nothing.
[[nodiscard]] const Bound* resolve(const Scope& scope, const std::string& name, const Place& place,
                                   CheckContext& context);
/// The same without a word.
[[nodiscard]] const Bound* find(const Scope& scope, const std::string& name);

}  // namespace detent::dsl
