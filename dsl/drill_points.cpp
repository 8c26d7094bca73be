#include "dsl/drill_points.hpp"

#include <fmt/format.h>

#include <utility>

#include "dsl/alter_words.hpp"
#include "dsl/text.hpp"
#include "dsl/walk.hpp"

namespace detent::dsl {
namespace {

/// Made of conditions alone.
bool joins_conditions(const Term& term) {
  switch (term.op) {
    case TermOp::not_:
    case TermOp::and_:
    case TermOp::or_:
      return true;
    case TermOp::equal:
      return term.operands[0].type.kind == SortKind::condition;
    case TermOp::choose:
      return term.type.kind == SortKind::condition;
    default:
      return false;
  }
}

class PointList {
 public:
  PointList(const Design& design, const Sources& sources) : design_(design), sources_(sources) {}

  std::vector<DrillPoint> make() {
    for (index_ = 0; index_ < design_.elements.size(); ++index_) {
      if (element().hidden) continue;
      add_values();
      std::visit([this](const auto& body) { add_body(body); }, element().body);
    }
    return std::move(points_);
  }

 private:
  [[nodiscard]] const Element& element() const { return design_.elements[index_]; }
  [[nodiscard]] Term itself() const { return reference_term(design_, index_, element().place); }
  [[nodiscard]] Term negated(Term term) const {
    return condition_term(TermOp::not_, {std::move(term)}, element().place);
  }
  [[nodiscard]] Term both(Term one, Term other) const {
    return condition_term(TermOp::and_, {std::move(one), std::move(other)}, element().place);
  }
  [[nodiscard]] Term before(const Term& term, Value start) const {
    return {.op = TermOp::previous,
            .type = term.type,
            .place = element().place,
            .value = start,
            .operands = {term}};
  }
  [[nodiscard]] Term is(const Term& term, Value value) const {
    if (term.type.kind == SortKind::condition) return value != 0 ? term : negated(term);
    return condition_term(TermOp::equal, {term, constant_term(value, term.type, element().place)},
                          element().place);
  }
  [[nodiscard]] Term goes(bool on) const {
    return on ? both(itself(), negated(before(itself(), 0))) : both(negated(itself()), before(itself(), 0));
  }
  void add(const std::string& words, Term when) {
    points_.push_back({fmt::format("{} {}", element().name, words), index_, std::move(when)});
  }

  void add_values() {
    const Term hand{.op = is_input(element()) ? TermOp::hand : TermOp::reference,
                    .type = element().type,
                    .place = element().place,
                    .element = index_};
    if (std::holds_alternative<LinkBody>(element().body)) {
      const Term lost{.op = TermOp::lost, .place = element().place, .element = index_};
      add("is lost", lost);
      add("is there", negated(lost));
      return;
    }
    if (element().type.kind == SortKind::condition) {
      add(fmt::format("is {}", value_text(design_, element(), 1)), is(hand, 1));
      add(fmt::format("is {}", value_text(design_, element(), 0)), is(hand, 0));
    } else if (element().type.kind == SortKind::position) {
      for (std::size_t place = 0; place < element().positions.size(); ++place) {
        add(fmt::format("is {}", element().positions[place]), is(hand, static_cast<Value>(place)));
      }
    }
  }

  template <class Body>
  void add_body(const Body& /*none*/) {}

  void add_body(const PulseBody& body) {
    add("starts", goes(true));
    Term runs_out = goes(false);
    if (body.cancel) {
      add("is cut short", both(goes(false), *body.cancel));
      runs_out = both(std::move(runs_out), negated(*body.cancel));
    }
    add("runs out", std::move(runs_out));
  }
  void add_body(const DelayBody& body) {
    add("has waited to its end", goes(true));
    add("ends", goes(false));
    add("is let go before its end",
        both(negated(body.input), both(before(body.input, 0), negated(before(itself(), 0)))));
  }
  void add_body(const LingerBody& body) {
    add("runs out", goes(false));
    add("goes on after its cause", both(itself(), negated(body.input)));
  }
  void add_body(const LatchBody& body) {
    add("is set", both(body.set, goes(true)));
    add("is reset", both(body.reset, goes(false)));
  }
  void add_body(const CounterBody& body) {
    add("is at its top", is(itself(), body.range.high));
    add("is back at its start",
        both(is(itself(), body.range.low), negated(is(before(itself(), body.range.low), body.range.low))));
  }
  void add_body(const KeepBody& body) {
    const Term same = condition_term(TermOp::equal, {itself(), body.value}, element().place);
    add("takes a value", both(body.when, negated(is(itself(), body.start))));
    add("keeps a value", both(negated(body.when), negated(same)));
  }
  void add_body(const StagesBody& body) {
    for (const CheckedMove& move : body.moves) {
      Term there = is(itself(), move.to);
      const Term was = before(itself(), 0);
      there = both(std::move(there), move.from ? is(was, *move.from) : negated(is(was, move.to)));
      if (move.when) there = both(std::move(there), *move.when);
      add(fmt::format("goes by the line '{}'", one_line(sources_.text(move.place))), std::move(there));
    }
  }

  const Design& design_;
  const Sources& sources_;
  std::size_t index_ = 0;
  std::vector<DrillPoint> points_;
};

void collect(const Term& term, std::vector<const Term*>& conditions) {
  if (!joins_conditions(term)) {
    if (term.op != TermOp::constant) conditions.push_back(&term);
    return;
  }
  for (const Term& operand : term.operands) collect(operand, conditions);
}

class DecisionList {
 public:
  DecisionList(const Design& design, const Sources& sources) : design_(design), sources_(sources) {}

  std::vector<DrillDecision> make() {
    for (index_ = 0; index_ < design_.elements.size(); ++index_) {
      for (const Term* term : terms_of(design_.elements[index_].body)) look(*term);
    }
    return std::move(list_);
  }

 private:
  void look(const Term& term) {
    if (term.type.kind != SortKind::condition || term.op == TermOp::constant) {
      for (const Term& operand : term.operands) look(operand);
      return;
    }
    DrillDecision decision{.element = index_, .text = written(term, sources_), .whole = &term};
    collect(term, decision.conditions);
    const std::vector<const Term*> conditions = decision.conditions;
    if (!conditions.empty()) list_.push_back(std::move(decision));
    for (const Term* condition : conditions) {
      for (const Term& operand : condition->operands) look(operand);
    }
  }

  const Design& design_;
  const Sources& sources_;
  std::size_t index_ = 0;
  std::vector<DrillDecision> list_;
};

bool decided(const Term& term, const std::vector<bool>& values, std::size_t& next) {
  if (term.op == TermOp::constant) return term.value != 0;
  if (!joins_conditions(term)) return values[next++];
  std::vector<bool> operands;
  for (const Term& operand : term.operands) operands.push_back(decided(operand, values, next));
  switch (term.op) {
    case TermOp::not_:
      return !operands[0];
    case TermOp::equal:
      return operands[0] == operands[1];
    case TermOp::choose:
      return operands[0] ? operands[1] : operands[2];
    default:
      break;
  }
  bool result = operands[0];
  for (const bool operand : operands)
    result = term.op == TermOp::and_ ? result && operand : result || operand;
  return result;
}

}  // namespace

std::vector<DrillPoint> drill_points(const Design& design, const Sources& sources) {
  return PointList(design, sources).make();
}

std::vector<DrillDecision> drill_decisions(const Design& design, const Sources& sources) {
  return DecisionList(design, sources).make();
}

bool decide(const Term& whole, const std::vector<bool>& values) {
  std::size_t next = 0;
  return decided(whole, values, next);
}

std::string written(const Term& term, const Sources& sources) {
  return one_line(sources.text(term.place));
}

Design asking_for(const Design& design, const std::vector<Term>& conditions) {
  Design result = design;
  for (const Term& condition : conditions) {
    result.claims.push_back({.name = fmt::format("drill {}", result.claims.size()),
                             .doc = "",
                             .place = condition.place,
                             .body = condition.place,
                             .form = ClaimForm::possible,
                             .first = condition});
  }
  return result;
}

}  // namespace detent::dsl
