// Expressions: types, units and values settled. Private to checking.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "dsl/design.hpp"
#include "dsl/scope.hpp"

namespace detent::dsl {

/// What is known of an element while the elements are being checked, in typing order.
struct ElementFacts {
  std::optional<Type> type = {};            ///< not known yet, or wrong (which has been reported)
  bool failed = false;                      ///< checked and found wrong
  std::optional<Term> constant = {};        ///< the element is a name for a constant
  std::optional<Range> channel = {};        ///< a channel's ends
  Value step = 1;                           ///< of a channel
  std::vector<std::string> positions = {};  ///< of a switch or stages
  std::string keyword = {};
};

/// A `previous` of an element whose type was not known yet: to be compared when it is.
struct AssumedType {
  Place place;
  std::size_t element = 0;
  Type type;
};

/// Turns expressions into terms. Every function reports what is wrong and then returns nothing; where an
/// operand has been reported already it returns nothing without a further word.
class TermChecker {
 public:
  TermChecker(const Collected& collected, CheckContext& context)
      : facts(collected.elements.size()), collected_(collected), context_(context) {}

  [[nodiscard]] std::optional<Term> term(const Expr& expr, const Scope& scope,
                                         const Type* expected = nullptr);
  [[nodiscard]] std::optional<Term> condition(const Expr& expr, const Scope& scope);
  [[nodiscard]] std::optional<Term> level(const Expr& expr, const Scope& scope);
  /// A level that is the same in every run.
  [[nodiscard]] std::optional<Term> constant_level(const Expr& expr, const Scope& scope);
  /// A constant of exactly this type (levels are brought to its decimals).
  [[nodiscard]] std::optional<Value> constant_of(const Expr& expr, const Scope& scope, const Type& type);
  /// The index of a position of this type, or -1 after reporting.
  [[nodiscard]] Value position(const std::string& word, const Place& place, const Type& type);

  [[nodiscard]] std::string describe(const Type& type) const;
  [[nodiscard]] static bool same_kind(const Type& one, const Type& other);
  /// Levels of one unit to the same number of decimals.
  static void align(Term& one, Term& other);
  static void align_to(Term& term, int decimals);

  std::vector<ElementFacts> facts;
  std::vector<AssumedType> assumed;

 private:
  std::optional<Term> quantity(const Expr& expr);
  std::optional<Term> named(const Expr& expr, const Scope& scope, const Type* expected);
  std::optional<Term> reference(const Expr& expr, std::size_t index);
  std::optional<Term> junction(const Expr& expr, const Scope& scope);
  std::optional<Term> exclusive(const Expr& expr, const Scope& scope);
  std::optional<Term> implication(const Expr& expr, const Scope& scope);
  std::optional<Term> comparison(const Expr& expr, const Scope& scope);
  std::optional<Term> equality(const Expr& expr, const Scope& scope);
  std::optional<Term> is_position(const Expr& expr, const Scope& scope);
  std::optional<Term> sum(const Expr& expr, const Scope& scope);
  std::optional<Term> product(const Expr& expr, const Scope& scope);
  std::optional<Term> choice(const Expr& expr, const Scope& scope, const Type* expected);

  std::optional<Term> call(const Expr& expr, const Scope& scope);
  std::optional<Term> extreme(const Expr& expr, const Scope& scope, TermOp op);
  std::optional<Term> absolute(const Expr& expr, const Scope& scope);
  std::optional<Term> changes(const Expr& expr, const Scope& scope);
  std::optional<Term> previous(const Expr& expr, const Scope& scope);
  std::optional<Term> timed(const Expr& expr, const Scope& scope, TermOp op);
  std::optional<Term> hysteresis(const Expr& expr, const Scope& scope, bool below);
  std::optional<Term> hand(const Expr& expr, const Scope& scope);
  bool argument_count(const Expr& expr, std::size_t least, std::size_t most, const std::string& form);

  bool pair_up(Term& one, Term& other, const Place& place);
  void check_within_channel(const Term& term, const Term& constant, bool equality);
  void warn_between_steps(const Term& term, const Term& constant);
  std::optional<std::vector<Term>> conditions(const Expr& expr, const Scope& scope);

  const Collected& collected_;
  CheckContext& context_;
};

// Terms from terms. Constants are worked out.
[[nodiscard]] bool is_constant(const Term& term);
[[nodiscard]] Term make_truth(bool value, const Place& place);
[[nodiscard]] Term make_not(Term operand, const Place& place);
[[nodiscard]] Term make_condition(TermOp op, std::vector<Term> operands, const Place& place, Value value = 0);
/// Joins terms two by two, as a balanced tree, so that a long row of operands makes no deep term. For
/// operations that may be grouped as one likes; at least one term.
[[nodiscard]] Term join_all(std::vector<Term> terms, const std::function<Term(std::vector<Term>)>& join);
[[nodiscard]] Term make_times(Value factor, Term operand, const Place& place);

}  // namespace detent::dsl
