// Declarations sorted by what they are; parts put in where they are used.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "dsl/durations.hpp"
#include "dsl/limits.hpp"
#include "dsl/scope.hpp"

namespace detent::dsl {
namespace {

template <typename... Bodies>
bool is_one_of(const Declaration& declaration) {
  return (std::holds_alternative<Bodies>(declaration.body) || ...);
}

bool is_input(const Declaration& declaration) {
  return is_one_of<ChannelDeclaration, SwitchDeclaration, ButtonDeclaration, LinkDeclaration>(declaration);
}
bool is_setting(const Declaration& declaration) {
  return is_one_of<DesignTitle, TickDeclaration, PowerUpEdges, AtPowerUp, PartDeclaration,
                   IncludeDeclaration>(declaration);
}
bool is_element(const Declaration& declaration) {
  return is_input(declaration) ||
         is_one_of<SignalDeclaration, PulseDeclaration, DelayDeclaration, LingerDeclaration, LatchDeclaration,
                   CounterDeclaration, KeepDeclaration, StagesDeclaration, OutputDeclaration>(declaration);
}

bool is_literal(const Expr& expr) {
  return expr.op == Op::quantity || (expr.op == Op::negate && expr.operands[0].op == Op::quantity);
}

class Collector {
 public:
  explicit Collector(CheckContext& context) : context_(context) {}

  Collected run(const Tree& tree) {
    read_settings(tree);
    Scope& file = collected_.scopes.emplace_back();
    bind_all(tree.declarations, file);
    for (const Name& name : tree.broken) {
      file.names.try_emplace(name.text, Bound{BrokenBinding{}, name.place});
    }
    put_parts_in(tree.declarations, file);
    return std::move(collected_);
  }

 private:
  // ---- what is said once for the whole design ----
  void read_settings(const Tree& tree) {
    const Declaration* tick = nullptr;
    const Declaration* title = nullptr;
    const Declaration* edges = nullptr;
    for (const Declaration& declaration : tree.declarations) {
      if (is_one_of<TickDeclaration>(declaration)) {
        keep_first(tick, declaration, "tick");
      } else if (is_one_of<DesignTitle>(declaration)) {
        keep_first(title, declaration, "design");
      } else if (is_one_of<PowerUpEdges>(declaration)) {
        keep_first(edges, declaration, "power_up");
      }
    }
    collected_.title = title == nullptr ? "" : title->doc;
    if (edges != nullptr) {
      read_edge_rule(std::get<PowerUpEdges>(edges->body).rule);
    }
    if (tick != nullptr) {
      read_tick(std::get<TickDeclaration>(tick->body).length);
    } else if (std::none_of(tree.broken.begin(), tree.broken.end(),
                            [](const Name& name) { return name.text == "tick"; })) {
      context_.report(Code::no_tick, {}, "this design does not say how long a tick is",
                      "begin with a line such as 'tick 20 ms'");
    }
  }

  void keep_first(const Declaration*& first, const Declaration& next, const char* word) {
    if (first == nullptr) {
      first = &next;
    } else {
      context_.report(Code::declared_twice, next.place, fmt::format("'{}' is said twice", word),
                      "keep one of them", {{first->place, "first said here"}});
    }
  }

  void read_edge_rule(const Name& rule) {
    const std::vector<std::string> rules{"counted", "ignored", "either"};
    const auto found = std::find(rules.begin(), rules.end(), rule.text);
    if (found == rules.end()) {
      const std::string near = nearest_name(rule.text, rules);
      context_.report(
          Code::unknown_name, rule.place, fmt::format("edges at power-up can't be '{}'", rule.text),
          near.empty() ? "write counted, ignored or either" : fmt::format("did you mean '{}'?", near));
      return;
    }
    collected_.edges = static_cast<EdgeRule>(found - rules.begin());
  }

  void read_tick(const Expr& expr) {
    constexpr Picoseconds us = 1'000'000;
    constexpr Picoseconds hour = 3'600'000'000 * us;
    const Scope empty;
    if (expr.op == Op::quantity && (expr.text == "tick" || expr.text == "ticks")) {
      context_.report(Code::wrong_unit, expr.place, "the length of a tick can't be said in ticks",
                      "write for example 'tick 20 ms'");
      return;
    }
    const auto length = length_of(expr, empty, context_);
    if (!length) {
      return;
    }
    if (*length < us || *length > hour || *length % us != 0) {
      context_.report(Code::bad_duration, expr.place,
                      fmt::format("a tick can't be {} long", duration_text(*length)),
                      "use a whole number of us, from 1 us to 1 h");
      return;
    }
    context_.tick = *length;
  }

  // ---- names ----
  bool bind(Scope& scope, const Name& name, Bound bound) {
    const auto [entry, is_new] = scope.names.try_emplace(name.text, bound);
    if (!is_new) {
      context_.report(Code::declared_twice, name.place, fmt::format("'{}' is declared twice", name.text),
                      "give one of them another name", {{entry->second.place, "first declared here"}});
    }
    return is_new;
  }

  void bind_all(const std::vector<Declaration>& declarations, Scope& scope) {
    for (const Declaration& declaration : declarations) {
      if (collected_.elements.size() > most_elements) {
        report_too_large(declaration.place);
        scope.names.try_emplace(declaration.name.text, Bound{BrokenBinding{}, declaration.name.place});
        continue;
      }
      if (scope.file == nullptr || may_stand_in_part(declaration)) {
        bind_one(declaration, scope);
      }
    }
  }

  bool may_stand_in_part(const Declaration& declaration) {
    const bool input = is_input(declaration);
    if (!input && !is_setting(declaration)) {
      return true;
    }
    if (reported_.insert(&declaration).second) {
      context_.report(Code::misplaced, declaration.place,
                      input ? "an input can't stand in a part" : "this can't stand in a part",
                      input ? "make it an argument of the part" : "move it to the top of the file");
    }
    return false;
  }

  void bind_one(const Declaration& declaration, Scope& scope) {
    const Statement statement{&declaration, &scope};
    if (is_element(declaration)) {
      if (bind(scope, declaration.name,
               {ElementBinding{collected_.elements.size()}, declaration.name.place})) {
        collected_.elements.push_back({.name = scope.prefix + declaration.name.text,
                                       .place = declaration.name.place,
                                       .scope = &scope,
                                       .declaration = &declaration});
      }
    } else if (is_one_of<TunableDeclaration>(declaration)) {
      bind_tunable(declaration, scope);
    } else if (is_one_of<PartDeclaration>(declaration)) {
      bind(scope, declaration.name, {PartBinding{&declaration}, declaration.name.place});
    } else if (is_one_of<UseDeclaration>(declaration)) {
      bind(scope, declaration.name, {UseBinding{}, declaration.name.place});
    } else if (is_one_of<ClaimDeclaration>(declaration)) {
      collected_.claims.push_back(statement);
    } else if (is_one_of<AssumeDeclaration>(declaration)) {
      collected_.assumptions.push_back(statement);
    } else if (is_one_of<AtPowerUp>(declaration)) {
      collected_.at_power_up.push_back(statement);
    }
  }

  void bind_tunable(const Declaration& declaration, Scope& scope) {
    const auto& tunable = std::get<TunableDeclaration>(declaration.body);
    const bool literal = is_literal(tunable.value) && is_literal(tunable.from) && is_literal(tunable.to);
    if (!literal && reported_.insert(&declaration).second) {
      context_.report(
          Code::not_constant, declaration.name.place,
          fmt::format("the values of the tunable '{}' must be written out", declaration.name.text),
          "write for example 'tunable patience = 8 s from 1 s to 15 s'");
    }
    const bool is_new =
        literal ? bind(scope, declaration.name, {TunableBinding{&declaration}, declaration.name.place})
                : bind(scope, declaration.name, {DurationBinding{}, declaration.name.place});
    if (is_new && literal) {
      collected_.tunables.push_back({&declaration, &scope});
    }
  }

  void report_too_large(const Place& place) {
    if (!too_large_) {
      context_.report(Code::too_large, place,
                      fmt::format("this design has more than {} elements, parts put in", most_elements),
                      "check parts that use parts many times over");
    }
    too_large_ = true;
  }

  // ---- parts ----
  void put_parts_in(const std::vector<Declaration>& declarations, Scope& scope) {
    for (const Declaration& declaration : declarations) {
      if (is_one_of<UseDeclaration>(declaration) && !too_large_) {
        const std::size_t begin = collected_.elements.size();
        const std::size_t claims = collected_.claims.size() + collected_.assumptions.size();
        put_in(declaration, scope);
        if (scope.file == nullptr) {
          collected_.parts_in_use.push_back(
              {.name = declaration.name,
               .begin = begin,
               .end = collected_.elements.size(),
               .claims = collected_.claims.size() + collected_.assumptions.size() > claims});
        }
      }
    }
  }

  const Declaration* part_of(const UseDeclaration& use, const Scope& scope) {
    const Bound* bound = resolve(scope, use.part.text, use.part.place, context_);
    if (bound == nullptr) {
      return nullptr;
    }
    const auto* part = std::get_if<PartBinding>(&bound->binding);
    if (part == nullptr) {
      context_.report(Code::wrong_sort_of_name, use.part.place, fmt::format("'{}' is no part", use.part.text),
                      "'use' needs the name of a part", {{bound->place, "declared here"}});
      return nullptr;
    }
    return part->declaration;
  }

  void put_in(const Declaration& use_declaration, Scope& outer) {
    const auto& use = std::get<UseDeclaration>(use_declaration.body);
    const Declaration* part = part_of(use, outer);
    if (part == nullptr || is_endless(*part, use_declaration)) {
      return;
    }
    const auto& body = std::get<PartDeclaration>(part->body);
    if (use.arguments.size() != body.parameters.size()) {
      context_.report(
          Code::wrong_arguments, use_declaration.place,
          fmt::format("the part '{}' needs {} argument{}, but {} given", use.part.text,
                      body.parameters.size(), body.parameters.size() == 1 ? "" : "s",
                      use.arguments.size() == 1 ? "1 is" : fmt::format("{} are", use.arguments.size())),
          "give one for each name in its first line", {{part->name.place, "the part"}});
      return;
    }
    Scope& inner = collected_.scopes.emplace_back();
    inner.file = &collected_.scopes.front();
    inner.prefix = outer.prefix + use_declaration.name.text + ".";
    for (std::size_t index = 0; index < use.arguments.size(); ++index) {
      bind_argument(body.parameters[index], use.arguments[index], outer, inner);
    }
    bind_all(body.body, inner);
    auto& binding = outer.names.at(use_declaration.name.text).binding;
    if (std::holds_alternative<UseBinding>(binding)) {
      binding = UseBinding{&inner};
    }
    open_parts_.push_back(part);
    put_parts_in(body.body, inner);
    open_parts_.pop_back();
  }

  bool is_endless(const Declaration& part, const Declaration& use) {
    const bool again = std::find(open_parts_.begin(), open_parts_.end(), &part) != open_parts_.end();
    if (again || open_parts_.size() >= deepest_parts) {
      if (reported_.insert(&use).second) {
        context_.report(Code::endless_parts, use.place,
                        again ? fmt::format("the part '{}' uses itself, which has no end", part.name.text)
                              : fmt::format("parts stand in parts more than {} deep", deepest_parts),
                        "take this use out", {{part.name.place, "the part"}});
      }
      return true;
    }
    return false;
  }

  void bind_argument(const Parameter& parameter, const Expr& argument, const Scope& outer, Scope& inner) {
    if (parameter.kind == ParameterKind::duration) {
      bind(inner, parameter.name,
           {DurationBinding{length_of(argument, outer, context_)}, parameter.name.place});
      return;
    }
    if (bind(inner, parameter.name, {ElementBinding{collected_.elements.size()}, parameter.name.place})) {
      collected_.elements.push_back({.name = inner.prefix + parameter.name.text,
                                     .place = argument.place,
                                     .scope = &outer,
                                     .argument = &argument,
                                     .parameter = parameter.kind});
    }
  }

  CheckContext& context_;
  Collected collected_;
  std::vector<const Declaration*> open_parts_;
  std::set<const Declaration*> reported_;  // once for a declaration, however often its part is used
  bool too_large_ = false;
};

}  // namespace

Collected collect(const Tree& tree, CheckContext& context) {
  return Collector(context).run(tree);
}

}  // namespace detent::dsl
