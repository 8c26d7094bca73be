// A condition of the command line is compiled as a claim is, so that it may be any expression of the
// language.
#include "cli/compare_plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <initializer_list>
#include <map>
#include <string_view>
#include <utility>

#include "cli/claim_names.hpp"
#include "cli/compare_asked.hpp"
#include "dsl/borrow.hpp"

namespace detent::cli {
namespace {

using dsl::Claim;
using dsl::Model;
using dsl::side_a;
using dsl::side_b;
using dsl::Wanted;

// No name of the language has a question mark.
constexpr const char* goal_name = "the goal?";
constexpr const char* lock_name = "the lock?";
constexpr const char* rest_name = "at rest?";

dsl::Renames turned_round(const dsl::Renames& renames) {
  dsl::Renames turned;
  for (const auto& [one, other] : renames) turned.emplace_back(other, one);
  return turned;
}

class Plan {
 public:
  Plan(const CompareOptions& options, CompareResult& result, dsl::Renames renames)
      : options_(options), result_(result), renames_(std::move(renames)), back_(turned_round(renames_)) {}

  std::optional<CommandResult> run() {
    const auto match = dsl::match_signals(result_.model(side_a), result_.model(side_b), renames_);
    if (const auto* problem = std::get_if<dsl::MatchProblem>(&match)) {
      return usage_error(problem->message, problem->mend);
    }
    list_claims();
    find_conditions();
    compile();
    result_.both =
        dsl::put_side_by_side(result_.model(side_a), result_.model(side_b), std::get<dsl::Match>(match));
    find_claims();
    return find_figures();
  }

 private:
  // ---- claims ----
  void list_claims() {
    for (const std::size_t side : {side_a, side_b}) {
      const ClaimNames others(result_.model(1 - side));
      const auto texts = dsl::claim_texts(result_.compiled[side]);
      for (const Claim& claim : result_.model(side).claims) {
        const Claim* same_name = others.find(claim.name);
        const bool same = same_name != nullptr && same_name->text == claim.text;
        if (same && side == side_b) continue;
        ComparedClaim row{.name = claim.name, .text = claim.text, .doc = claim.doc};
        if (same_name != nullptr && !same) row.worded_by = side;
        names_.push_back({claim.name, claim.name});
        if (!same) borrow(row, side, texts);
        result_.claims.push_back(std::move(row));
      }
    }
  }

  void borrow(ComparedClaim& row, std::size_t lender, const std::map<std::string, std::string>& texts) {
    const std::size_t borrower = 1 - lender;
    const auto text = texts.find(row.name);
    names_.back()[borrower] = row.name + (lender == side_a ? " (of A)" : " (of B)");
    if (text == texts.end()) {
      row.why_not[borrower] = "it stands in a part, and speaks by the names of that part";
    } else {
      wanted_[borrower].push_back({names_.back()[borrower], text->second, ""});
    }
  }

  // ---- conditions of the figures ----
  void find_conditions() {
    find_goal();
    find_lock();
    find_rest();
  }

  void find_goal() {
    std::string text = options_.goal.value_or("");
    if (!options_.goal) {
      const auto& claims = result_.model(side_a).claims;
      const auto first =
          std::find_if(claims.begin(), claims.end(), [](const Claim& one) { return one.possible; });
      if (first != claims.end()) text = first->first.text;
    }
    for (const std::size_t side : {side_a, side_b}) {
      want(result_.goal, side, goal_name, text,
           "A has no 'possible' claim to take it from; --goal \"live\" names it");
    }
  }

  void find_lock() {
    for (const std::size_t side : {side_a, side_b}) {
      const std::string goal =
          side == side_a ? result_.goal.text[side] : dsl::name_in_b(result_.goal.text[side], renames_);
      const std::string own = options_.lock ? "" : dsl::reset_text(result_.compiled[side], goal);
      // What comes from B's own text is in B's own words.
      own_words_[side] = !own.empty();
      want(result_.lock, side, lock_name, options_.lock ? *options_.lock : own,
           "the goal is no latch whose reset could be it; --lock \"guard is safe\" names it");
      own_words_[side] = false;
    }
  }

  void find_rest() {
    for (const std::size_t side : {side_a, side_b}) {
      const std::string own = options_.rest ? "" : rest_of(side);
      own_words_[side] = !own.empty();
      want(result_.rest, side, rest_name, options_.rest ? *options_.rest : own,
           "not every output has a value behind 'else'; --rest \"jet == -100 %\" names it");
      own_words_[side] = false;
    }
  }

  /// All outputs at their value behind `else`; a condition is at rest where it is off.
  std::string rest_of(std::size_t side) const {
    std::vector<std::string> parts;
    for (const dsl::Signal& signal : result_.model(side).signals) {
      if (signal.role != dsl::SignalRole::output) continue;
      parts.push_back(signal.sort.kind == dsl::SortKind::condition
                          ? "not " + signal.name
                          : dsl::resting_text(result_.compiled[side], signal.name));
      if (parts.back().empty()) return "";
    }
    return fmt::format("{}", fmt::join(parts, " and "));
  }

  void want(ComparedCondition& condition, std::size_t side, const char* name, const std::string& text,
            const char* reason) {
    condition.text[side] = text;
    if (text.empty()) {
      condition.why_not[side] = reason;
      return;
    }
    auto& list = own_words_[side] ? own_[side] : wanted_[side];
    list.push_back({name, fmt::format("claim asked: never {}\n", text), ""});
  }

  // ---- compiling ----
  void compile() {
    for (const std::size_t side : {side_a, side_b}) {
      std::vector<Wanted>& own = own_[side];
      dsl::Compiled compiled = dsl::compile_with(result_.compiled[side], own, {});
      // Of A's list, what the command line says is in A's words too; all that was borrowed from B is in B's.
      std::vector<Wanted> asked, borrowed;
      for (Wanted& one : wanted_[side])
        (one.name.ends_with('?') ? asked : borrowed).push_back(std::move(one));
      compiled = dsl::compile_with(compiled, asked, side == side_a ? dsl::Renames{} : renames_);
      compiled = dsl::compile_with(compiled, borrowed, side == side_a ? back_ : renames_);
      compiled.diagnostics = result_.compiled[side].diagnostics;
      result_.compiled[side] = std::move(compiled);
      note_problems(side, {&own, &asked, &borrowed});
    }
  }

  void note_problems(std::size_t side, std::initializer_list<const std::vector<Wanted>*> lists) {
    std::map<std::string_view, std::string*> reasons = {{goal_name, &result_.goal.why_not[side]},
                                                        {lock_name, &result_.lock.why_not[side]},
                                                        {rest_name, &result_.rest.why_not[side]}};
    for (std::size_t row = 0; row < names_.size(); ++row) {
      reasons.emplace(names_[row][side], &result_.claims[row].why_not[side]);
    }
    for (const auto* list : lists) {
      for (const Wanted& one : *list) {
        if (!one.problem.empty()) *reasons.at(one.name) = one.problem;
      }
    }
  }

  // ---- questions ----
  void find_claims() {
    const std::array<ClaimNames, 2> claims = {ClaimNames(result_.model(side_a)),
                                              ClaimNames(result_.model(side_b))};
    for (std::size_t row = 0; row < names_.size(); ++row) {
      solver::ClaimRow& question = result_.questions.claims.emplace_back();
      for (const std::size_t side : {side_a, side_b}) {
        if (const auto claim = claims[side].index(names_[row][side])) question.claim[side] = *claim;
      }
    }
  }

  static dsl::NodeId node_of(const ClaimNames& claims, const char* name) {
    const Claim* claim = claims.find(name);
    return claim == nullptr ? dsl::no_node : claim->first.node;
  }

  /// What the command line names must at least be there in A.
  std::optional<CommandResult> find_figures() {
    const std::pair<const char*, std::pair<const std::optional<std::string>&, const ComparedCondition&>>
        asked[] = {{"--goal", {options_.goal, result_.goal}},
                   {"--lock", {options_.lock, result_.lock}},
                   {"--rest", {options_.rest, result_.rest}}};
    for (const auto& [option, named] : asked) {
      const auto& [text, condition] = named;
      if (text && !condition.why_not[side_a].empty()) {
        return wrong_condition(option, condition.why_not[side_a]);
      }
    }
    for (const std::size_t side : {side_a, side_b}) {
      const ClaimNames claims(result_.model(side));
      result_.questions.figures[side] = {.goal = node_of(claims, goal_name),
                                         .lock = node_of(claims, lock_name),
                                         .rest = node_of(claims, rest_name)};
    }
    return std::nullopt;
  }

  const CompareOptions& options_;
  CompareResult& result_;
  dsl::Renames renames_, back_;
  std::vector<std::array<std::string, 2>> names_;    ///< by row: the claim's name in each design
  std::array<std::vector<Wanted>, 2> wanted_, own_;  ///< in the other's or A's words; in its own words
  std::array<bool, 2> own_words_ = {false, false};
};

}  // namespace

std::optional<CommandResult> plan_comparison(const CompareOptions& options, CompareResult& result) {
  dsl::Renames renames;
  if (auto problem = read_matches(options, renames)) return problem;
  if (auto problem = check_conditions(options)) return problem;
  return Plan(options, result, std::move(renames)).run();
}

}  // namespace detent::cli
