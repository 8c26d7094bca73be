// What a proof remembers and knows, in words.
#pragma once

#include <string>

#include "dsl/model.hpp"
#include "solver/machine.hpp"
#include "solver/proof.hpp"

namespace detent::cli {

/// Of the machine that a proof speaks of. Nodes are those of the whole circuit: a `previous` or an `age`.
class MemoryWords {
 public:
  MemoryWords(const dsl::Model& model, const solver::Proof& proof);

  /// "live, as it was one tick ago"
  [[nodiscard]] std::string meaning(dsl::NodeId node) const;
  /// "Before tick 0: live was off."
  [[nodiscard]] std::string before_start(dsl::NodeId node) const;
  /// "For the next step it is remembered what live is now."
  [[nodiscard]] std::string afterwards(dsl::NodeId node) const;
  /// "live was off, or it is at most 59 ticks (2.95 s) since nudge"
  [[nodiscard]] std::string fact(const solver::Clause& clause) const;

 private:
  [[nodiscard]] const solver::Memory& memory(dsl::NodeId node) const;
  /// Of whom something is remembered; with the memory's number where two are of the same.
  [[nodiscard]] std::string subject(const solver::Memory& memory) const;
  [[nodiscard]] bool marks_first_tick(const solver::Memory& memory) const;
  [[nodiscard]] std::string value(const solver::Memory& memory, dsl::Value value) const;
  [[nodiscard]] std::string atom(const solver::Atom& atom) const;
  [[nodiscard]] const dsl::Signal* signal_of(const solver::Memory& memory) const;

  const dsl::Model& model_;
  solver::Slice slice_;
  solver::Machine machine_;
};

}  // namespace detent::cli
