// The rules of expressions, tightest first; each line is one step of the ladder in dsl/README.md.
#pragma once

#include "dsl/grammar/operators.hpp"

namespace detent::dsl::grammar {

const x3::rule<struct expression_rule, Expr> expression = "expression";
const x3::rule<struct sum_rule, Expr> sum = "sum";
const x3::rule<struct truth_rule, Expr> truth = "truth";
const x3::rule<struct reference_rule, Expr> reference = "reference";
const x3::rule<struct bracketed_rule, Expr> bracketed = "bracketed";
const x3::rule<struct choice_rule, Expr> choice = "choice";
const x3::rule<struct call_rule, Expr> call = "call";
const x3::rule<struct primary_rule, Expr> primary = "primary";
const x3::rule<struct start_value_rule, Expr> start_value = "start_value";

constexpr std::string_view any_expression = "a condition or a value";

const auto operand = onto(&Expr::operands);
const auto self = [](auto& context) { x3::_val(context) = std::move(x3::_attr(context)); };
const auto is_true = [](auto& context) { x3::_val(context).number = {1, 0}; };
const auto is_choice = [](auto& context) { x3::_val(context).op = Op::choose; };
const auto is_name = [](auto& context) {
  x3::_val(context).op = Op::name;
  x3::_val(context).text = std::move(x3::_attr(context).text);
};
const auto calls = [](std::string_view called) {
  return [called](auto& context) {
    x3::_val(context).op = Op::call;
    x3::_val(context).text = called;
  };
};
const auto call_word = [](std::string_view called) { return word(called)[calls(called)]; };

const auto truth_def = placed(word("true")[is_true] | word("false"));
const auto reference_def = placed(dotted_name[is_name] >> not_a_call);
const auto bracketed_def = placed(in_brackets(expression[self], any_expression));
const auto choice_def = placed(deeper(
    word("if")[is_choice] >> must("a condition", expression)[operand] >> must("'then'", word("then")) >>
    must(any_expression, expression)[operand] >> must("'else' (a choice always has both)", word("else")) >>
    must(any_expression, expression)[operand]));

const auto plain_call = call_word("rises") | call_word("falls") | call_word("changes") | call_word("held") |
                        call_word("recently") | call_word("since") | call_word("min") | call_word("max") |
                        call_word("abs") | call_word("hand");
const auto next_operand = must(any_expression, expression)[operand];
const auto plain_operands = expression[operand] >> *(mark(",") >> next_operand);
const auto previous_operands = expression[operand] >>
                               -(mark(",") >> must("'starting' and the value before the first tick, as in "
                                                   "'previous(x, starting 0 %)'",
                                                   word("starting")) >>
                                 must(any_expression, start_value)[operand]);
const auto threshold_operands =
    expression[operand] >> must("',' and the level that switches", mark(",")) >> next_operand >>
    must("', until' and the level that switches back", mark(",")) >>
    must("'until' and the level that switches back", word("until")) >> next_operand;
const auto call_def = placed(
    (plain_call >> must("'('", in_brackets(plain_operands, any_expression))) |
    (call_word("previous") >> must("'('", in_brackets(previous_operands, any_expression))) |
    ((call_word("below") | call_word("above")) >> must("'('", in_brackets(threshold_operands, "a level"))));

const auto primary_def = quantity | reference | bracketed | call | choice | truth;

const auto negated = Prefixed(mark("-"), Op::negate, primary, "a value");
const auto product = Joined(negated, mark("*"), Op::multiply, "a value");
const auto sum_def = Summed(product);
const auto comparison = Compared(sum);
const auto negation = Prefixed(operator_word("not"), Op::not_, comparison, "a condition");
const auto conjunction = Joined(negation, operator_word("and"), Op::and_, "a condition");
const auto exclusive = Joined(conjunction, operator_word("xor"), Op::xor_, "a condition");
const auto disjunction = Joined(exclusive, operator_word("or"), Op::or_, "a condition");
const auto expression_def = RightJoined(disjunction);
// Behind `starting` a position may be called by a word of the language, as behind `is`.
const auto start_value_def = placed(lone_position[is_name] | expression[self]);

BOOST_SPIRIT_DEFINE(expression, sum, truth, reference, bracketed, choice, call, primary, start_value)

}  // namespace detent::dsl::grammar
