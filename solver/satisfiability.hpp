// The one door to Z3: can these gates take values that make some of them true?
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "solver/gates.hpp"

namespace detent::solver {

enum class Answer {
  yes,
  no,
  unknown,        ///< interrupted, or Z3 gave up
  too_hard,       ///< the effort allowed was not enough
  out_of_memory,  ///< no further question can be asked
};

class Satisfiability {
 public:
  /// The gates may grow meanwhile; they must outlive this.
  explicit Satisfiability(const Gates& gates);
  ~Satisfiability();
  Satisfiability(const Satisfiability&) = delete;
  Satisfiability& operator=(const Satisfiability&) = delete;

  /// From now on only values that make this true are looked at.
  void require(Literal fact);

  /// Whether this can be true, trying at most so many conflicts.
  [[nodiscard]] Answer ask(Literal wish, std::optional<unsigned> effort = {});

  /// After `yes`: the gates that Z3 has given a value, and these values (false for the others).
  [[nodiscard]] const std::vector<bool>& known() const { return known_; }
  [[nodiscard]] const std::vector<bool>& values() const { return values_; }

  [[nodiscard]] std::uint64_t calls() const { return calls_; }

  /// Ends a running ask() soon, from any thread; it answers `unknown`.
  void interrupt();

 private:
  class Terms;  // what needs z3++.h
  Answer ask_z3(Literal wish, std::optional<unsigned> effort);
  void read_values();
  const Gates* gates_;
  std::unique_ptr<Terms> terms_;
  bool out_of_memory_ = false;
  unsigned effort_ = 0;  ///< as Z3 was told last
  std::vector<bool> known_;
  std::vector<bool> values_;
  std::uint64_t calls_ = 0;
};

/// What Z3 uses at the moment, in the whole process.
[[nodiscard]] std::size_t solver_memory_bytes();

/// The largest amount that Z3 may use in the whole process; beyond it questions answer `out_of_memory`.
/// Absent: no limit.
void limit_solver_memory(std::optional<std::size_t> mib);

}  // namespace detent::solver
