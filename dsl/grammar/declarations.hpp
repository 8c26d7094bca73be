// The rules of declarations and claims, in the order of dsl/README.md. What stands between a declaration's
// word and its name is the same for all (heading); each rule below reads what follows the name.
#pragma once

#include "dsl/grammar/expressions.hpp"

namespace detent::dsl::grammar {

struct Heading {
  Name name;
  std::string doc;
};

template <class Made>
using Rule = x3::rule<Made, Made>;

// ---- Pieces that many rules share ----

constexpr std::string_view a_duration = "a duration such as '8 s'";
const auto gets = must("'=' and a value", GetsToken{});
const auto duration = must(a_duration, Timed(sum));
const auto condition = must("a condition", expression);
const auto value = must(any_expression, expression);
const auto level = must("a level such as '100 %'", sum);

const x3::rule<struct heading_rule, Heading> heading = "heading";
const auto heading_def = new_name("a name")[into(&Heading::name)] >> -text[into(&Heading::doc)];

// ---- Inputs ----

const Rule<TickDeclaration> tick = "tick";
const auto tick_def = duration[into(&TickDeclaration::length)];

const auto rate_unit = [](auto& context) {
  x3::_val(context).rate_unit = x3::_attr(context).text;
  x3::_val(context).rate_unit_place = x3::_attr(context).place;
};
const Rule<ChannelDeclaration> channel = "channel";
const auto channel_def =
    must("'from' and the lowest level", word("from")) >> level[into(&ChannelDeclaration::from)] >>
    must("'to' and the highest level", word("to")) >> level[into(&ChannelDeclaration::to)] >>
    -(word("step") >> level[into(&ChannelDeclaration::step)]) >>
    -(word("moving") >> must("'at most'", word("at")) >> must("'most'", word("most")) >>
      level[into(&ChannelDeclaration::rate)] >> must("'per' and ms, s, min or tick", word("per")) >>
      must("ms, s, min or tick", any_word)[rate_unit]);

const auto a_position = must("the name of a position", position);
const Rule<SwitchDeclaration> switches = "switch";
const auto switches_def = must("'is' and the positions, as in 'is safe | run'", word("is")) >>
                          a_position[onto(&SwitchDeclaration::positions)] >>
                          *(mark("|") >> a_position[onto(&SwitchDeclaration::positions)]);

const auto lost_word = [](auto& context) {
  Name& read = x3::_attr(context);
  Expr& made = x3::_val(context).value;
  made = make_expr(Op::name, read.place);
  made.text = std::move(read.text);
};
const Rule<LostValue> lost_value = "lost value";
const auto lost_value_def = new_name("the name of a carried input")[into(&LostValue::input)] >>
                            (lone_position[lost_word] |
                             must("the value that a lost link leaves", expression)[into(&LostValue::value)]);
const Rule<LinkDeclaration> links = "link";
const auto links_def = must("'carries' and the inputs that the link carries", word("carries")) >>
                       new_name("the name of an input")[onto(&LinkDeclaration::carried)] >>
                       *(mark(",") >> new_name("the name of an input")[onto(&LinkDeclaration::carried)]) >>
                       must("'lost:' and what the design sees while the link is lost", word("lost")) >>
                       must("':' behind 'lost'", mark(":")) >>
                       ((word("as") >> must("'before'", word("before")[flag(&LinkDeclaration::as_before)])) |
                        (lost_value[onto(&LinkDeclaration::values)] >>
                         *(mark(",") >> lost_value[onto(&LinkDeclaration::values)])));

// ---- Elements ----

const Rule<SignalDeclaration> signal = "signal";
const auto signal_def = gets >> value[into(&SignalDeclaration::value)];

const Rule<PulseDeclaration> pulse = "pulse";
const auto pulse_def = must("'on' and the condition that starts the pulse", word("on")) >>
                       condition[into(&PulseDeclaration::trigger)] >>
                       must("'for' and a duration such as 'for 8 s'", word("for")) >>
                       duration[into(&PulseDeclaration::length)] >>
                       -word("restarting")[flag(&PulseDeclaration::restarting)] >>
                       -(word("cancelled") >> must("'by' and a condition", word("by")) >>
                         condition[into(&PulseDeclaration::cancel)]);

template <class Timer>
auto timer_on_for() {
  return must("'on' and a condition", word("on")) >> condition[into(&Timer::input)] >>
         must("'for' and a duration such as 'for 8 s'", word("for")) >> duration[into(&Timer::length)];
}
const Rule<DelayDeclaration> delay = "delay";
const auto delay_def = timer_on_for<DelayDeclaration>();
const Rule<LingerDeclaration> linger = "linger";
const auto linger_def = timer_on_for<LingerDeclaration>();

const Rule<LatchDeclaration> latch = "latch";
const auto latch_def =
    must("'set' and a condition", word("set")) >> condition[into(&LatchDeclaration::set)] >>
    must("'reset' and a condition", word("reset")) >> condition[into(&LatchDeclaration::reset)] >>
    -((word("set")[flag(&LatchDeclaration::set_wins)] | word("reset")) >> must("'wins'", word("wins"))) >>
    -(word("starting") >>
      must("'on' or 'off'", word("on")[flag(&LatchDeclaration::starting_on)] | word("off")));

const Rule<CounterDeclaration> counter = "counter";
const auto counter_def = must("'up' and the condition that counts up", word("up")) >>
                         condition[into(&CounterDeclaration::up)] >>
                         -(word("down") >> condition[into(&CounterDeclaration::down)]) >>
                         -(word("reset") >> condition[into(&CounterDeclaration::reset)]) >>
                         must("'from' and the lowest count", word("from")) >>
                         must("a number", sum)[into(&CounterDeclaration::from)] >>
                         must("'to' and the highest count", word("to")) >>
                         must("a number", sum)[into(&CounterDeclaration::to)];

const Rule<KeepDeclaration> keep = "keep";
const auto keep_def = gets >> value[into(&KeepDeclaration::value)] >>
                      must("'when' and the condition that takes the value", word("when")) >>
                      condition[into(&KeepDeclaration::when)] >>
                      must("'starting' and the value before the first taking", word("starting")) >>
                      must(any_expression, start_value)[into(&KeepDeclaration::start)];

const Rule<Move> move = "move";
const auto move_def =
    placed((word("any") | position[into(&Move::from)]) >> must("'->' and the next stage", mark("->")) >>
           must("the name of a stage", position)[into(&Move::to)] >>
           -(word("after") >> duration[into(&Move::after)]) >>
           -(word("when") >> condition[into(&Move::when)]) >> move_has_cause);
const Rule<StagesDeclaration> stages = "stages";
const auto stages_def = must("'is' and the stages, as in 'is locked | live'", word("is")) >>
                        must("the name of a stage", position)[onto(&StagesDeclaration::stages)] >>
                        *(mark("|") >>
                          must("the name of a stage", position)[onto(&StagesDeclaration::stages)]) >>
                        *(move_begins >> move[onto(&StagesDeclaration::moves)]);

const Rule<OutputDeclaration> output = "output";
const auto output_def = gets >> value[into(&OutputDeclaration::value)] >>
                        -(word("when") >> condition[into(&OutputDeclaration::when)] >>
                          must("'else' and the value to hold otherwise", word("else")) >>
                          value[into(&OutputDeclaration::otherwise)]);

const Rule<TunableDeclaration> tunable = "tunable";
const auto tunable_def =
    gets >> level[into(&TunableDeclaration::value)] >>
    must("'from' and the lowest value", word("from")) >> level[into(&TunableDeclaration::from)] >>
    must("'to' and the highest value", word("to")) >> level[into(&TunableDeclaration::to)];

// ---- Power-up ----

const Rule<PowerUpEdges> power_up = "power_up";
const auto power_up_def = must("'edges'", word("edges")) >>
                          must("'counted', 'ignored' or 'either'", edge_rule)[into(&PowerUpEdges::rule)];
const Rule<AtPowerUp> at_power_up = "at power_up";
const auto at_power_up_def = must("'power_up', as in 'at power_up: not stop'", word("power_up")) >>
                             must("':' and a condition", mark(":")) >> condition[into(&AtPowerUp::condition)];

// ---- Claims ----

const auto form = [](ClaimForm which) { return [which](auto& context) { x3::_val(context).form = which; }; };
const auto first = into(&ClaimBody::first);
const auto second = into(&ClaimBody::second);
const auto within = into(&ClaimBody::duration);

const auto after_only = (word("within")[form(ClaimForm::only_within)] >> duration[within] >>
                         must("'after' and a condition", word("after")) >> condition[second]) |
                        (word("after")[form(ClaimForm::only_after)] >> condition[second]) |
                        (word("while")[form(ClaimForm::only_while)] >> condition[second]);
const auto after_lasts = must("'at least' or 'at most' and a duration", word("at")) >>
                         must("'least' or 'most' and a duration",
                              word("least")[form(ClaimForm::lasts_at_least)] |
                                  word("most")[form(ClaimForm::lasts_at_most)]) >>
                         duration[within];

const x3::rule<struct claim_body_rule, ClaimBody> claim_body = "claim body";
const auto claim_body_def = placed(
    (word("always")[form(ClaimForm::always)] >> condition[first]) |
    (word("never")[form(ClaimForm::never)] >> condition[first] >>
     -(word("while")[form(ClaimForm::never_while)] >> condition[second])) |
    (word("whenever")[form(ClaimForm::whenever)] >> condition[first] >>
     must("':' and what must then hold", mark(":")) >> condition[second] >>
     -((word("within")[form(ClaimForm::whenever_within)] | word("for")[form(ClaimForm::whenever_for)]) >>
       duration[within])) |
    (word("possible")[form(ClaimForm::possible)] >> condition[first] >>
     -(word("within")[form(ClaimForm::possible_within)] >> duration[within])) |
    (expression[first] >>
     ((word("only") >> must("'within', 'after' or 'while'", after_only)) |
      must("'only' or 'lasts' (a plain condition is claimed with 'always')", word("lasts") >> after_lasts))));
const auto colon_and_body = must("':' and what is claimed", mark(":")) >>
                            must("a claim, such as 'always …' or 'whenever …: …'", claim_body);

const Rule<ClaimDeclaration> claim = "claim";
const auto claim_def = colon_and_body[into(&ClaimDeclaration::body)];
const Rule<AssumeDeclaration> assume = "assume";
const auto assume_def = colon_and_body[into(&AssumeDeclaration::body)];

// ---- Parts ----

const auto kind = [](ParameterKind which) {
  return [which](auto& context) { x3::_val(context).kind = which; };
};
const Rule<Parameter> parameter = "parameter";
const auto parameter_def = (word("condition")[kind(ParameterKind::condition)] |
                            word("level")[kind(ParameterKind::level)] |
                            word("count")[kind(ParameterKind::count)] |
                            word("duration")[kind(ParameterKind::duration)]) >>
                           new_name("the name of a parameter")[into(&Parameter::name)];

/// Only the head: what a part holds is read by the loop in grammar.cpp, which keeps the open parts.
const Rule<PartDeclaration> part = "part";
const auto a_parameter =
    must("a parameter: 'condition', 'level', 'count' or 'duration' and a name", parameter);
const auto part_def = must("'(' and the parameters", mark("(")) >>
                      (mark(")") | (a_parameter[onto(&PartDeclaration::parameters)] >>
                                    *(mark(",") >> a_parameter[onto(&PartDeclaration::parameters)]) >>
                                    must("',' or ')'", mark(")"))));

const Rule<UseDeclaration> use = "use";
const auto use_def = gets >> must("the name of a part", name)[into(&UseDeclaration::part)] >>
                     must("'(' and the arguments",
                          (mark("(") >> mark(")")) |
                              in_brackets(expression[onto(&UseDeclaration::arguments)] >>
                                              *(mark(",") >> value[onto(&UseDeclaration::arguments)]),
                                          any_expression));

const Rule<IncludeDeclaration> include = "include";
const auto include_def = must("a file name in quotes", text)[into(&IncludeDeclaration::path)];

// ---- One declaration ----

const auto head = [](auto& context) {
  x3::_val(context).name = std::move(x3::_attr(context).name);
  x3::_val(context).doc = std::move(x3::_attr(context).doc);
};
const auto body = [](auto& context) { x3::_val(context).body = std::move(x3::_attr(context)); };
const auto empty_body = [](auto made) { return [made](auto& context) { x3::_val(context).body = made; }; };
const auto named = [](std::string_view spelling, const auto& rest) {
  return word(spelling) >> heading[head] >> rest[body];
};

const x3::rule<struct declaration_rule, Declaration> declaration = "declaration";
const auto declaration_def = placed(
    (word("design") >> must("the title in quotes", text)[into(&Declaration::doc)] >>
     x3::eps[empty_body(DesignTitle{})]) |
    (word("tick") >> tick[body]) | named("channel", channel) | named("switch", switches) |
    (word("button") >> heading[head] >> x3::eps[empty_body(ButtonDeclaration{})]) | named("link", links) |
    named("signal", signal) | named("pulse", pulse) | named("delay", delay) | named("linger", linger) |
    named("latch", latch) | named("counter", counter) | named("keep", keep) | named("stages", stages) |
    named("output", output) | named("tunable", tunable) | (word("power_up") >> power_up[body]) |
    (word("at") >> at_power_up[body]) | named("claim", claim) | named("assume", assume) |
    named("part", part) | named("use", use) | (word("include") >> include[body]));

BOOST_SPIRIT_DEFINE(heading, tick, channel, switches, lost_value, links, signal, pulse, delay, linger, latch,
                    counter, keep, move, stages, output, tunable, power_up, at_power_up, claim_body, claim,
                    assume, parameter, part, use, include, declaration)

}  // namespace detent::dsl::grammar
