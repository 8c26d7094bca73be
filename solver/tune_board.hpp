// What is known of each value while a design is tuned, shared by the threads that find it out. Private to
// solver/tune.cpp.
#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <mutex>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "solver/family.hpp"
#include "solver/forever.hpp"
#include "solver/tune.hpp"

namespace detent::solver {

/// All functions may be called from several threads at once.
class TuneBoard {
 public:
  TuneBoard(const TuneTask& task, const TuneOptions& options);

  /// The model of a point, or nothing where its values make no design.
  void put(std::size_t point, std::optional<dsl::Model> model);
  [[nodiscard]] const dsl::Model& model(std::size_t point) const { return *points_[point].model; }
  [[nodiscard]] const Shape& shape(std::size_t point, std::uint32_t claim) const {
    return points_[point].shapes[claim];
  }

  /// A point that nobody has taken, the most telling first (solver/tune_order.hpp).
  std::optional<std::size_t> take();
  /// A point to take before all others, if it is still open by then.
  void suggest(std::size_t point);
  /// This point, if nobody has taken it and it is open.
  bool take(std::size_t point);
  [[nodiscard]] bool is_open(std::size_t point);
  /// Points of which it is worth knowing whether the claim breaks there: open ones, and those that fail by
  /// one declared later.
  [[nodiscard]] std::vector<std::size_t> points_wanting(std::uint32_t claim);
  [[nodiscard]] std::vector<PointFinding> findings();

  /// Settles the point if what is known of its claims suffices. Whether it is settled.
  bool settle_by_answers(std::size_t point);

  /// Claims to ask next: those that broke elsewhere, then all others, then whether their conditions can be
  /// met.
  enum class Turn { likely, others, conditions };
  [[nodiscard]] std::vector<std::uint32_t> open_claims(std::size_t point, Turn turn);
  /// Whether it is still worth asking.
  [[nodiscard]] bool is_open(std::size_t point, std::uint32_t claim);

  /// A point that fails and may fail by an earlier claim; each once, after all points are settled.
  std::optional<std::size_t> take_unnamed();
  /// Claims declared before the one that the point fails by, those that are open.
  [[nodiscard]] std::vector<std::uint32_t> claims_before(std::size_t point);
  /// Lets the point fail by the first of its claims that is known to break.
  void name_first(std::size_t point);

  /// Points at which the claim is open and has the form that it has at `point`, itself first, whether it is
  /// open or not; only points with assumptions under which the engine has seen no dead end.
  [[nodiscard]] std::vector<Member> alike(std::size_t point, std::uint32_t claim);

  /// What the engine said of a model, all claims of which were asked at this point.
  void answer(std::size_t point, const Report& report);
  /// The claim is proved at all these points by one proof.
  void proved_together(const std::vector<Member>& members, std::uint32_t claim);
  /// What the run shows at an open point, if it shows anything. Whether it breaks a claim there.
  bool learn(std::size_t point, const Run& run);
  /// Runs that break a claim at the nearest points, and those points.
  [[nodiscard]] std::vector<std::pair<std::size_t, Run>> near_runs(std::size_t point);

  TuneReport take_report();

 private:
  /// A claim of one or more points at which it is the same, node by node.
  struct Question {
    enum class State { open, holds, broken, undecided, no_run };
    State state = State::open;
    Limit limit = Limit::none;
    std::optional<Run> run = {};
    bool for_all_time = false;
    Value ticks = 0;
    std::size_t together = 1;  ///< holds: at how many points its proof shows it
  };
  struct Point {
    std::optional<dsl::Model> model = {};        ///< with a `possible` claim for each condition of a claim
    std::vector<std::uint32_t> premise_of = {};  ///< of those claims, which claim they are for
    std::vector<Shape> shapes = {};              ///< one for each claim
    std::vector<std::size_t> questions = {};     ///< one for each claim
    std::string assumptions = {};                ///< what is assumed, written out; "" for nothing
    bool taken = false;
    [[nodiscard]] std::size_t claims() const { return questions.size() - premise_of.size(); }
  };

  std::size_t question_of(std::string key);
  [[nodiscard]] const Question& question(std::size_t point, std::uint32_t claim) const {
    return questions_[points_[point].questions[claim]];
  }
  [[nodiscard]] bool wants(std::size_t point, std::uint32_t claim) const;
  [[nodiscard]] PointFinding broken_by(std::size_t point, std::uint32_t claim) const;
  [[nodiscard]] std::optional<PointFinding> finding_of_claims(std::size_t point) const;
  [[nodiscard]] std::optional<PointFinding> holding(std::size_t point) const;
  void settle(std::size_t point, PointFinding finding);
  static void take_over(Question& question, const Verdict& verdict, bool no_run);

  const TuneTask& task_;
  const TuneOptions& options_;
  std::mutex mutex_;
  std::vector<Point> points_;
  std::map<std::string, std::size_t> numbers_;  ///< of questions, by key
  std::vector<Question> questions_;
  std::set<std::string> can_be_kept_{""};        ///< assumptions under which the engine has seen no dead end
  std::map<std::uint32_t, std::size_t> breaks_;  ///< how often each claim broke
  std::optional<std::size_t> suggested_ = {};
  std::size_t decided_ = 0;
  std::size_t wanted_ = 0;   ///< points to decide
  std::size_t unnamed_ = 0;  ///< the next for take_unnamed()
  TuneReport report_;
};

}  // namespace detent::solver
