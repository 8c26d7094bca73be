// One claim at many values of a tunable, as one machine in which the numbers that differ are unknowns of Z3.
// Private to solver/tune.cpp and what it is made of; the essay is in family.cpp.
#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <vector>

#include "dsl/model.hpp"
#include "solver/shape.hpp"

namespace detent::solver {

/// A point of the grid and its shape there.
struct Member {
  std::size_t point = 0;
  Value row = 0, column = 0;
  const Shape* shape = nullptr;
};

class Family {
 public:
  /// `model` is the one at the first member, and must outlive the family. Members that differ from the first
  /// in more than numbers, or whose numbers don't grow evenly with row and column, are left out.
  Family(const dsl::Model& model, std::uint32_t claim, const std::vector<Member>& members);
  Family(const Family&) = delete;
  Family& operator=(const Family&) = delete;

  [[nodiscard]] const Machine& machine() const { return *machine_; }
  [[nodiscard]] NodeId watch() const { return watch_; }
  /// Those that fit; the first among them.
  [[nodiscard]] const std::vector<Member>& members() const { return members_; }
  /// Numbers that differ between members.
  [[nodiscard]] const std::map<Value, Even>& unknown() const { return unknown_; }
  /// By node of the model: the index of its memory in the machine, or no_memory.
  [[nodiscard]] std::uint32_t memory_of(NodeId whole) const { return memory_of_[whole]; }
  static constexpr std::uint32_t no_memory = static_cast<std::uint32_t>(-1);
  /// A run of the machine as a run of the model.
  [[nodiscard]] Run widened(const Run& run) const { return widen(run, slice_, model_.circuit); }

 private:
  void fit(const std::vector<Member>& members, std::vector<Even>& numbers);
  void build(const Slice& first, const std::vector<Even>& numbers);

  const dsl::Model& model_;
  std::vector<Member> members_;
  std::map<Value, Even> unknown_;
  Slice slice_;
  std::optional<Machine> machine_;
  NodeId watch_ = dsl::no_node;
  std::vector<std::uint32_t> memory_of_;
};

}  // namespace detent::solver
