// Z3 as a solver of gates. Only gates that a question leads to are handed over, each once, as a named Boolean
// constant that equals its definition; later questions find them there, with all that Z3 has learned since.
#include "solver/satisfiability.hpp"

#include <z3++.h>

#include <limits>
#include <new>
#include <string>
#include <unordered_set>

namespace detent::solver {

class Satisfiability::Terms {
 public:
  // Ctrl-C is the caller's: Z3 would put its own handler in its place during every question.
  Terms() { solver_.set("ctrl_c", false); }

  z3::expr term(Literal literal) {
    const z3::expr name(context_, names_[literal.gate()]);
    return literal.opposite() ? !name : name;
  }

  bool has(std::uint32_t number) const { return number < names_.size() && names_[number] != nullptr; }

  void hand_over(const Gates& gates, std::uint32_t wanted) {
    names_.resize(gates.size(), nullptr);
    define_with_operands(gates, wanted);
    while (!facts_.empty()) {
      const Literal fact = facts_.back();
      facts_.pop_back();
      define_with_operands(gates, fact.gate());
      solver_.add(term(fact));
    }
  }

  z3::context& context() { return context_; }
  z3::solver& solver() { return solver_; }

 private:
  void define_with_operands(const Gates& gates, std::uint32_t wanted) {
    std::vector<std::uint32_t> open{wanted};
    while (!open.empty()) {
      const std::uint32_t number = open.back();
      const std::size_t before = open.size();
      if (!has(number)) push_missing(gates.gate(number), open);
      if (open.size() != before) continue;
      open.pop_back();
      if (!has(number)) define(gates, number);
    }
  }

  void push_missing(const Gate& gate, std::vector<std::uint32_t>& open) const {
    if (gate.kind == GateKind::constant || gate.kind == GateKind::variable) return;
    for (const Literal part : {gate.a, gate.b, gate.c}) {
      if (!has(part.gate())) open.push_back(part.gate());
    }
  }

  void define(const Gates& gates, std::uint32_t number) {
    const Gate& gate = gates.gate(number);
    const z3::symbol symbol = context_.int_symbol(static_cast<int>(number));
    const z3::expr name = context_.constant(symbol, context_.bool_sort());
    switch (gate.kind) {
      case GateKind::constant:
        solver_.add(!name);
        break;
      case GateKind::variable:
        remember_facts(gates, number);
        break;
      case GateKind::both:
        solver_.add(name == (term(gate.a) && term(gate.b)));
        break;
      case GateKind::same:
        solver_.add(name == (term(gate.a) == term(gate.b)));
        break;
      case GateKind::choose:
        solver_.add(name == z3::ite(term(gate.a), term(gate.b), term(gate.c)));
        break;
    }
    kept_.push_back(name);
    names_[number] = name;
  }

  /// Each fact is bound to every variable in it and is added with the first of them.
  void remember_facts(const Gates& gates, std::uint32_t variable) {
    const auto [begin, end] = gates.facts_of(variable);
    for (auto fact = begin; fact != end; ++fact) {
      if (known_facts_.insert(fact->second.code).second) facts_.push_back(fact->second);
    }
  }

  z3::context context_;
  z3::solver solver_{context_, "QF_FD"};
  z3::expr_vector kept_{context_};  // keeps the names alive
  std::vector<Z3_ast> names_;       // by gate
  std::vector<Literal> facts_;      // still to be added
  std::unordered_set<std::uint32_t> known_facts_;
};

namespace {

bool speaks_of_memory(const std::string& message) {
  return message.find("memory") != std::string::npos;
}

}  // namespace

Satisfiability::Satisfiability(const Gates& gates) : gates_(&gates), terms_(std::make_unique<Terms>()) {}
Satisfiability::~Satisfiability() = default;

void Satisfiability::require(Literal fact) {
  if (out_of_memory_ || fact == always_true) return;
  try {
    terms_->hand_over(*gates_, fact.gate());
    terms_->solver().add(terms_->term(fact));
  } catch (const z3::exception&) {
    out_of_memory_ = true;  // there is no other reason: the terms are well formed
  } catch (const std::bad_alloc&) {
    out_of_memory_ = true;
  }
}

Answer Satisfiability::ask(Literal wish, std::optional<unsigned> effort) {
  if (out_of_memory_) return Answer::out_of_memory;
  try {
    return ask_z3(wish, effort);
  } catch (const z3::exception& problem) {
    if (!speaks_of_memory(problem.msg())) return Answer::unknown;
  } catch (const std::bad_alloc&) {
  }
  out_of_memory_ = true;
  return Answer::out_of_memory;
}

Answer Satisfiability::ask_z3(Literal wish, std::optional<unsigned> effort) {
  ++calls_;
  z3::expr_vector assumptions(terms_->context());
  terms_->hand_over(*gates_, wish.gate());
  assumptions.push_back(terms_->term(wish));
  z3::params parameters(terms_->context());
  if (const unsigned most = effort.value_or(std::numeric_limits<unsigned>::max()); most != effort_) {
    parameters.set("max_conflicts", most);
    terms_->solver().set(parameters);
    effort_ = most;
  }
  switch (terms_->solver().check(assumptions)) {
    case z3::sat:
      read_values();
      return Answer::yes;
    case z3::unsat:
      return Answer::no;
    default:
      break;
  }
  const std::string reason = terms_->solver().reason_unknown();
  if (speaks_of_memory(reason)) throw std::bad_alloc();
  return reason.find("conflicts") != std::string::npos ? Answer::too_hard : Answer::unknown;
}

void Satisfiability::read_values() {
  known_.assign(gates_->size(), false);
  values_.assign(gates_->size(), false);
  const z3::model model = terms_->solver().get_model();
  for (std::uint32_t number = 0; number < gates_->size(); ++number) {
    if (!terms_->has(number)) continue;
    const z3::expr value = model.eval(terms_->term({number * 2}), true);
    // Where Z3 has been told to stop, it also gives up in the middle of reading.
    if (!value.is_true() && !value.is_false()) throw z3::exception("a gate's value was not worked out");
    known_[number] = true;
    values_[number] = value.is_true();
  }
}

void Satisfiability::interrupt() {
  terms_->context().interrupt();
}

std::size_t solver_memory_bytes() {
  return static_cast<std::size_t>(Z3_get_estimated_alloc_size());
}

void limit_solver_memory(std::optional<std::size_t> mib) {
  z3::set_param("memory_max_size", std::to_string(mib.value_or(0)).c_str());
}

}  // namespace detent::solver
