// Skipping quiet time.
//
// A design with an 8 s window at a tick of 20 ms has 400 ticks in which nothing happens but that a clock
// counts. Unrolled tick by tick they cost 400 copies of the circuit. Here one *step* is an ordinary tick and
// d >= 0 quiet ticks after it, and Z3 chooses d. A tick is quiet if, compared with the tick before,
//   - every input is as it was,
//   - every `previous` answers as it did: what it remembers is what it already showed,
//   - every clock (`age`) that counts stays on the same side of each number that it is compared with.
// Then, by induction over the nodes in evaluation order, every node but the clocks has the value that it had:
// inputs and `previous` by the first two rules; a comparison of a clock by the third, and clocks are looked
// at by nothing else; every other node because its operands have not changed. So the tick after may be quiet
// by the same rules, and d quiet ticks do no more than add d to each counting clock (up to its cap, which
// lies beyond all its numbers). A condition is true in some tick of a run exactly if it is true in the tick
// of some step, and the tick count of a run is the sum of 1 + d: nothing is rounded and nothing is lost.
// Every run splits into steps (d = 0 throughout, if need be), and every step is a piece of a run.
//
// The idea is that of timed automata, whose time passes in one transition while their locations stay (Alur
// and Dill, "A theory of timed automata", TCS 126, 1994), applied to a synchronous circuit in whole ticks.
//
// Ramps. A channel with a rate limit would have to move tick by tick, which is never quiet. Where whatever
// looks at the channel only compares it (directly, or after sums, products and choices), it may move during
// the quiet ticks too: from x to x' with |x' - x| <= d * rate, if every condition that looks at it is the
// same at both ends. It moves in one direction; with all conditions fixed, what is computed from it rises or
// falls with it; so the conditions are the same all the way. The `previous` that the rate limit itself looks
// at is left out of the second rule: the limit is kept by how the ramp is made.
//
// Terms are integers and truth values, because the sums of clocks and d are what Z3's arithmetic is good at.
#include "solver/steps.hpp"

#include <z3++.h>

#include <algorithm>
#include <cstdlib>

namespace detent::solver {

using dsl::Circuit;
using dsl::CircuitInput;
using dsl::no_node;
using dsl::Node;
using dsl::NodeKind;

namespace {

z3::expr number(z3::context& context, Value value) {
  return context.int_val(static_cast<std::int64_t>(value));
}

z3::expr fresh(z3::context& context, bool condition, const std::string& name) {
  return condition ? context.bool_const(name.c_str()) : context.int_const(name.c_str());
}

z3::expr literal(z3::context& context, bool condition, Value value) {
  return condition ? context.bool_val(value != 0) : number(context, value);
}

/// A number of the machine's circuit.
z3::expr number(z3::context& context, const Machine& machine, Value value) {
  if (machine.unknown != nullptr) {
    if (const auto found = machine.unknown->find(value); found != machine.unknown->end()) {
      return term_of(context, found->second);
    }
  }
  return number(context, value);
}

class StepMaker {
 public:
  StepMaker(z3::context& context, const Machine& machine, const std::vector<z3::expr>& before,
            const std::string& suffix)
      : context_(context), machine_(machine), circuit_(*machine.circuit), before_(before), suffix_(suffix) {}

  Step make() {
    make_inputs();
    make_values();
    for (const NodeId id : machine_.constraints) {
      step_.facts.push_back(step_.values[id]);
    }
    step_.quiet.push_back(fresh(context_, false, "quiet" + suffix_));
    step_.facts.push_back(quiet() >= 0);
    is_quiet_ = quiet() >= 1;
    for (const Ramp& ramp : machine_.ramps) {
      make_ramp(ramp);
    }
    for (std::size_t index = 0; index < machine_.memories.size(); ++index) {
      step_.memory.push_back(remember(machine_.memories[index]));
    }
    return std::move(step_);
  }

 private:
  [[nodiscard]] const z3::expr& quiet() const { return step_.quiet.front(); }

  void make_inputs() {
    for (const CircuitInput& input : circuit_.inputs()) {
      // Two inputs may have one name (of two designs that are compared), but to Z3 one name is one thing.
      const std::string name = input.name + " (input " + std::to_string(step_.inputs.size()) + ")" + suffix_;
      const z3::expr term = fresh(context_, input.condition, name);
      step_.inputs.push_back(term);
      if (!input.condition) {
        keep_on_grid(term, input, name);
      }
    }
  }

  void keep_on_grid(const z3::expr& term, const CircuitInput& input, const std::string& name) {
    step_.facts.push_back(term >= number(context_, input.range.low));
    step_.facts.push_back(term <= number(context_, input.range.high));
    if (input.step != 1) {
      const z3::expr steps = context_.int_const(("steps of " + name).c_str());
      step_.facts.push_back(term == number(context_, input.range.low) + steps * number(context_, input.step));
    }
  }

  void make_values() {
    std::size_t next_memory = 0;
    step_.values.reserve(circuit_.nodes().size());
    for (const Node& node : circuit_.nodes()) {
      const bool remembers = node.kind == NodeKind::previous || node.kind == NodeKind::age;
      const std::size_t memory = next_memory;
      next_memory += remembers ? 1U : 0U;
      step_.values.push_back(value(node, memory, step_.values));
    }
  }

  // The node's term, its operands taken from `values`.
  z3::expr value(const Node& node, std::size_t memory, const std::vector<z3::expr>& values) {
    if (!machine_.cut.empty() && machine_.cut[values.size()]) {
      return cut_loose(node, values.size());
    }
    switch (node.kind) {
      case NodeKind::constant:
        return node.condition ? literal(context_, true, node.number)
                              : number(context_, machine_, node.number);
      case NodeKind::input:
        return step_.inputs[static_cast<std::size_t>(node.number)];
      case NodeKind::previous:
        return before_[memory];
      case NodeKind::age:
        return age(node, before_[memory], values[node.a]);
      default:
        return gate(node, values);
    }
  }

  z3::expr cut_loose(const Node& node, std::size_t id) {
    const z3::expr free = fresh(context_, node.condition, "cut " + std::to_string(id) + suffix_);
    if (!node.condition) {
      step_.facts.push_back(free >= number(context_, node.range.low));
      step_.facts.push_back(free <= number(context_, node.range.high));
    }
    return free;
  }

  z3::expr gate(const Node& node, const std::vector<z3::expr>& values) {
    switch (node.kind) {
      case NodeKind::not_:
        return !values[node.a];
      case NodeKind::and_:
        return values[node.a] && values[node.b];
      case NodeKind::or_:
        return values[node.a] || values[node.b];
      case NodeKind::choose:
        return z3::ite(values[node.a], values[node.b], values[node.c]);
      case NodeKind::equal:
        return values[node.a] == values[node.b];
      case NodeKind::less_equal:
        return values[node.a] <= values[node.b];
      case NodeKind::add:
        return values[node.a] + values[node.b];
      default:
        return number(context_, node.number) * values[node.a];
    }
  }

  z3::expr age(const Node& node, const z3::expr& before, const z3::expr& event) {
    const z3::expr cap = number(context_, node.cap);
    return z3::ite(event, number(context_, 0), z3::ite(before >= cap, cap, before + 1));
  }

  // ---- after the tick ----
  z3::expr remember(const Memory& memory) {
    const Node& node = circuit_.node(memory.node);
    const z3::expr& now = memory.clock ? step_.values[memory.node] : step_.values[node.a];
    return memory.clock ? aged(memory, node, now) : settled(memory, now);
  }

  z3::expr settled(const Memory& memory, const z3::expr& now) {
    for (std::size_t index = 0; index < machine_.ramps.size(); ++index) {
      if (machine_.ramps[index].before == memory.node) {
        return step_.moved[index];
      }
    }
    step_.facts.push_back(z3::implies(is_quiet_, now == step_.values[memory.node]));
    return now;
  }

  z3::expr aged(const Memory& memory, const Node& node, const z3::expr& now) {
    const z3::expr& event = step_.values[node.a];
    const z3::expr later = now + quiet();
    for (const Value limit : memory.limits) {
      const z3::expr bound = number(context_, machine_, limit);
      step_.facts.push_back(event || now > bound || later <= bound);
    }
    const z3::expr cap = number(context_, node.cap);
    return z3::ite(event, now, z3::ite(later >= cap, cap, later));
  }

  void make_ramp(const Ramp& ramp) {
    const CircuitInput& input = circuit_.inputs()[ramp.input];
    const std::string name = input.name + " (input " + std::to_string(ramp.input) + ") moved" + suffix_;
    const z3::expr from = step_.inputs[ramp.input];
    const z3::expr to = context_.int_const(name.c_str());
    keep_on_grid(to, input, name);
    const z3::expr most = number(context_, ramp.most) * quiet();
    step_.facts.push_back(to - from <= most && from - to <= most);
    std::vector<z3::expr> ends = step_.values;
    for (const NodeId id : ramp.carried) {
      const z3::expr end = id == input.node ? to : gate(circuit_.node(id), ends);
      ends[id] = end;
    }
    for (const NodeId id : ramp.readers) {
      step_.facts.push_back(gate(circuit_.node(id), ends) == step_.values[id]);
    }
    step_.moved.push_back(to);
  }

  z3::context& context_;
  const Machine& machine_;
  const Circuit& circuit_;
  const std::vector<z3::expr>& before_;
  const std::string& suffix_;
  z3::expr is_quiet_{context_};
  Step step_;
};

/// Where a ramp is after `ticks` quiet ticks: straight to its end, as fast as it may.
Value on_the_way(Value from, Value to, Value most, Value ticks) {
  return from + std::clamp(to - from, -most * ticks, most * ticks);
}

}  // namespace

// Steps are ages, their bounds and sums of one or two of them: for that the older of Z3's two arithmetic
// solvers is the quicker one, and equations between numbers need not be passed on. On the flagship the two
// settings save a sixth of all instructions (388 and 372 million for 445, callgrind).
// Ctrl-C is the caller's: Z3 would put its own handler in its place during every question.
z3::solver make_solver(z3::context& context) {
  z3::solver solver(context, z3::solver::simple());
  z3::params params(context);
  params.set("arith.solver", 2U);
  params.set("arith.propagate_eqs", false);
  params.set("ctrl_c", false);
  solver.set(params);
  return solver;
}

z3::expr unknown_row(z3::context& context) {
  return context.int_const("unknown row");
}

z3::expr unknown_column(z3::context& context) {
  return context.int_const("unknown column");
}

z3::expr term_of(z3::context& context, const Even& even) {
  z3::expr_vector parts(context);
  parts.push_back(number(context, even.base));
  if (even.per_row != 0) parts.push_back(number(context, even.per_row) * unknown_row(context));
  if (even.per_column != 0) parts.push_back(number(context, even.per_column) * unknown_column(context));
  return parts.size() == 1 ? parts[0U] : z3::sum(parts);
}

std::vector<z3::expr> starting_memory(z3::context& context, const Machine& machine) {
  std::vector<z3::expr> memory;
  for (const Memory& one : machine.memories) {
    memory.push_back(one.condition ? literal(context, true, one.start) : number(context, machine, one.start));
  }
  return memory;
}

std::vector<z3::expr> any_memory(z3::context& context, const Machine& machine, const std::string& suffix,
                                 std::vector<z3::expr>& facts) {
  std::vector<z3::expr> memory;
  for (std::size_t index = 0; index < machine.memories.size(); ++index) {
    const Memory& one = machine.memories[index];
    memory.push_back(fresh(context, one.condition, "memory " + std::to_string(index) + suffix));
    if (!one.condition) {
      facts.push_back(memory.back() >= number(context, one.range.low));
      facts.push_back(memory.back() <= number(context, one.range.high));
    }
  }
  return memory;
}

Step make_step(z3::context& context, const Machine& machine, const std::vector<z3::expr>& before,
               const std::string& suffix) {
  return StepMaker(context, machine, before, suffix).make();
}

StepValues read_step(const z3::model& model, const Step& step) {
  return {.inputs = read_values(model, step.inputs),
          .moved = read_values(model, step.moved),
          .quiet = read_value(model, step.quiet.front())};
}

// Where Z3 has been told to stop, it also gives up in the middle of reading: then what comes back is no
// value.
Value read_value(const z3::model& model, const z3::expr& term) {
  const z3::expr value = model.eval(term, true);
  if (value.is_bool()) {
    if (!value.is_true() && !value.is_false()) {
      throw z3::exception("the value of a condition was not worked out");
    }
    return value.is_true() ? 1 : 0;
  }
  return value.get_numeral_int64();
}

std::vector<Value> read_values(const z3::model& model, const std::vector<z3::expr>& terms) {
  std::vector<Value> values;
  for (const z3::expr& term : terms) {
    values.push_back(read_value(model, term));
  }
  return values;
}

Value ticks_moving(const Machine& machine, const StepValues& step) {
  Value ticks = 0;
  for (std::size_t ramp = 0; ramp < machine.ramps.size(); ++ramp) {
    const Value way = std::abs(step.moved[ramp] - step.inputs[machine.ramps[ramp].input]);
    const Value most = std::max<Value>(machine.ramps[ramp].most, 1);
    ticks = std::max(ticks, (way + most - 1) / most);
  }
  return std::min(ticks, step.quiet);
}

Run expand(const Machine& machine, const std::vector<StepValues>& steps) {
  Run run;
  for (std::size_t index = 0; index < steps.size(); ++index) {
    const StepValues& step = steps[index];
    const Value quiet = index + 1 == steps.size() ? 0 : step.quiet;
    const Value moving = quiet == 0 ? 0 : ticks_moving(machine, step);
    for (Value tick = 0; tick <= moving; ++tick) {
      Rows::Row row = step.inputs;
      for (std::size_t ramp = 0; ramp < machine.ramps.size(); ++ramp) {
        Value& place = row[machine.ramps[ramp].input];
        place = on_the_way(place, step.moved[ramp], machine.ramps[ramp].most, tick);
      }
      run.inputs.push_back(row);
    }
    run.inputs.extend_to(run.ticks() + static_cast<std::size_t>(quiet - moving));
  }
  return run;
}

}  // namespace detent::solver
