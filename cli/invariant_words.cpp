// A node without a name is called by its number, as in the SMT-LIB text (solver/smtlib.cpp).
#include "cli/invariant_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>
#include <vector>

#include "cli/words.hpp"

namespace detent::cli {

using dsl::NodeId;
using solver::Atom;
using solver::Memory;

MemoryWords::MemoryWords(const dsl::Model& model, const solver::Proof& proof)
    : model_(model),
      slice_(solver::slice_for(model, proof.slice_of)),
      machine_(solver::machine_of(slice_, model, proof.slice_of)) {}

const Memory& MemoryWords::memory(NodeId node) const {
  const auto found = std::find_if(machine_.memories.begin(), machine_.memories.end(),
                                  [&](const Memory& one) { return slice_.whole_of[one.node] == node; });
  if (found == machine_.memories.end()) throw std::logic_error("a node that nothing remembers");
  return *found;
}

const dsl::Signal* MemoryWords::signal_of(const Memory& memory) const {
  const NodeId of = slice_.whole_of[slice_.circuit.node(memory.node).a];
  const auto found = std::find_if(model_.signals.begin(), model_.signals.end(),
                                  [&](const dsl::Signal& signal) { return signal.node == of; });
  return found == model_.signals.end() ? nullptr : &*found;
}

std::string MemoryWords::subject(const Memory& memory) const {
  const NodeId of = slice_.circuit.node(memory.node).a;
  const dsl::Signal* signal = signal_of(memory);
  const std::string name = signal != nullptr ? signal->name : fmt::format("node {}", of);
  const auto alike = std::count_if(
      machine_.memories.begin(), machine_.memories.end(),
      [&](const Memory& one) { return one.clock == memory.clock && slice_.circuit.node(one.node).a == of; });
  return alike == 1 ? name : fmt::format("{} ({})", name, &memory - machine_.memories.data());
}

bool MemoryWords::marks_first_tick(const Memory& memory) const {
  const dsl::Node& of = slice_.circuit.node(slice_.circuit.node(memory.node).a);
  return !memory.clock && of.kind == dsl::NodeKind::constant && of.condition && of.number != 0;
}

std::string MemoryWords::value(const Memory& memory, Value value) const {
  if (memory.clock) return ticks_words(value, model_.tick_us);
  if (const dsl::Signal* signal = signal_of(memory)) return dsl::to_text(value, signal->sort);
  if (memory.condition) return value != 0 ? "true" : "false";
  return fmt::format("{}", value);
}

std::string MemoryWords::meaning(NodeId node) const {
  const Memory& one = memory(node);
  if (marks_first_tick(one))
    return "Whether there has been a tick before this one; it is false in tick 0 and true ever after.";
  if (!one.clock) return fmt::format("{}, as it was one tick ago.", subject(one));
  return fmt::format("How many ticks ago {} was last true. It is counted up to {}; more makes no difference.",
                     subject(one), ticks_words(slice_.circuit.node(one.node).cap, model_.tick_us));
}

std::string MemoryWords::before_start(NodeId node) const {
  const Memory& one = memory(node);
  if (marks_first_tick(one)) return "Before tick 0 there was no tick.";
  if (one.clock) return fmt::format("Before tick 0, since {}: {}.", subject(one), value(one, one.start));
  return fmt::format("Before tick 0, {}: {}.", subject(one), value(one, one.start));
}

std::string MemoryWords::afterwards(NodeId node) const {
  const Memory& one = memory(node);
  if (marks_first_tick(one)) return "For the next step: that there was a tick.";
  if (one.clock) return fmt::format("For the next step: how many ticks ago {} was last true.", subject(one));
  return fmt::format("For the next step: what {} was.", subject(one));
}

std::string MemoryWords::atom(const Atom& atom) const {
  const Memory& first = machine_.memories[atom.first];
  const std::string what = first.clock ? fmt::format("the time since {}", subject(first))
                                       : fmt::format("{} (one tick ago)", subject(first));
  const std::string limit = value(first, atom.limit);
  if (marks_first_tick(first)) {
    const bool yes = (atom.kind == Atom::Kind::is) == (atom.limit != 0);
    return yes ? "there was a tick before" : "this is the first tick";
  }
  switch (atom.kind) {
    case Atom::Kind::is:
      return fmt::format("{} is {}", what, limit);
    case Atom::Kind::is_not:
      return fmt::format("{} is not {}", what, limit);
    case Atom::Kind::at_most:
      return fmt::format("{} is at most {}", what, limit);
    case Atom::Kind::at_least:
      return fmt::format("{} is at least {}", what, limit);
    case Atom::Kind::difference:
      break;
  }
  const Memory& second = machine_.memories[atom.second];
  return fmt::format("{} less {} is at most {}", what,
                     second.clock ? fmt::format("the time since {}", subject(second)) : subject(second),
                     limit);
}

std::string MemoryWords::fact(const solver::Clause& clause) const {
  std::vector<std::string> atoms;
  for (const Atom& one : clause) atoms.push_back(atom(one));
  return fmt::format("{}", fmt::join(atoms, "; or "));
}

}  // namespace detent::cli
