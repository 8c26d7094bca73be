// What is known of a claim at one value, for as many other values as possible at once. Private to
// solver/tune.cpp.
#pragma once

#include <cstdint>
#include <map>
#include <mutex>
#include <set>
#include <string>
#include <vector>

#include "solver/family_proof.hpp"
#include "solver/tune.hpp"
#include "solver/tune_board.hpp"

namespace detent::solver {

class TuneSpread {
 public:
  TuneSpread(TuneBoard& board, const TuneTask& task, const TuneOptions& options)
      : board_(board), task_(task), options_(options) {}

  /// After `seconds` of asking for it, this is known of a claim at a point: looks for runs at other values,
  /// and for one proof for all that are left. May be called from several threads; one at a time works.
  void from(std::size_t point, const Verdict& verdict, double seconds);

 private:
  bool worth_it(std::size_t members);
  void look_for_runs(const Family& family, std::uint32_t claim, int steps);
  bool is_better_elsewhere(const Family& family, const std::vector<Member>& open);
  void prove(const Family& family, std::size_t point, const Verdict& verdict);
  bool prove(const Family& family, const std::vector<Member>& members, std::uint32_t claim, int k);

  TuneBoard& board_;
  const TuneTask& task_;
  const TuneOptions& options_;
  std::mutex busy_;
  double asked_ = 0, wasted_ = 0;                        ///< seconds
  std::map<std::string, std::set<EvenClause>> guesses_;  ///< by form: from all proofs so far
  std::set<std::string> suggested_;                      ///< forms for which a value to prove at was named
  std::map<std::string, int> steps_;                     ///< by form: of the longest run
};

}  // namespace detent::solver
