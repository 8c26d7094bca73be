// Everything that can be undone is a State, small enough to be kept for each step; what was seen in between
// is in the chronicle, which is cut back with it and grows again when a step is done once more.
#include "cli/step_session.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/breakage.hpp"
#include "cli/run_judge.hpp"
#include "cli/time_text.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;

constexpr std::size_t most_undo = 1'000;
constexpr std::size_t largest_chronicle = 512U * 1024U * 1024U;
/// Of ticks in which something happens, while something is waited for.
constexpr Value most_steps = 500'000;

Refusal too_long(const Model& model) {
  return {fmt::format("a session holds at most {}, or what fits into {} MiB",
                      ticks_words(longest_run, model.tick_us), largest_chronicle / 1024 / 1024),
          "let less time pass"};
}

}  // namespace

Session::Session(const dsl::Compiled& compiled)
    : compiled_(&compiled),
      state_(fresh()),
      chronicle_(compiled.model->circuit, told_nodes(*compiled.model)) {
  most_per_tick_.resize(model().circuit.inputs().size());
  for (const dsl::Constraint& constraint : model().constraints) {
    if (!constraint.rate) continue;
    const dsl::Node& hand = model().circuit.node(constraint.rate->hand);
    most_per_tick_[static_cast<std::size_t>(hand.number)] = constraint.rate->most;
  }
}

Session::State Session::fresh() const {
  const Model& of = *compiled_->model;
  State state{Player(of), at_rest(of), {}, {}, nullptr, 0};
  state.targets.resize(of.circuit.inputs().size());
  state.first.resize(of.claims.size());
  return state;
}

// ---- Movements ----

void Session::aim(const std::vector<Move>& moves) {
  for (const Move& move : moves) state_.targets[model().signals[move.signal].input] = move.value;
}

/// What the loaded run does in the next tick.
void Session::follow_script() {
  if (!state_.script || state_.script_row >= state_.script->rows.size()) return;
  const HandRun::Row& row = state_.script->rows[state_.script_row];
  if (row.tick != tick() + 1) return;
  state_.inputs = row.inputs;
  std::fill(state_.targets.begin(), state_.targets.end(), std::nullopt);
  ++state_.script_row;
}

/// Inputs go where they are to be, in the next tick, as far as their rate limit lets them; at power-up they
/// may stand anywhere.
void Session::approach() {
  for (std::size_t input = 0; input < state_.inputs.size(); ++input) {
    std::optional<Value>& target = state_.targets[input];
    if (!target) continue;
    Value& value = state_.inputs[input];
    const Value most = powered() ? most_per_tick_[input].value_or(no_limit) : no_limit;
    value += std::clamp(*target - value, -most, most);
    if (value == *target) target.reset();
  }
}

bool Session::is_moving() const {
  const auto is_set = [](const std::optional<Value>& target) { return target.has_value(); };
  return std::any_of(state_.targets.begin(), state_.targets.end(), is_set);
}

std::vector<Move> Session::on_their_way() const {
  std::vector<Move> moves;
  for (std::uint32_t index = 0; index < model().signals.size(); ++index) {
    const dsl::Signal& signal = model().signals[index];
    if (signal.role != dsl::SignalRole::hand) continue;
    if (const auto& target = state_.targets[signal.input]) moves.push_back({index, *target});
  }
  return moves;
}

Value Session::until_script() const {
  if (!state_.script || state_.script_row >= state_.script->rows.size()) return no_limit;
  return state_.script->rows[state_.script_row].tick - tick() - 1;
}

// ---- Time ----

void Session::take_down(const std::vector<Value>& before, Passage* passage) {
  chronicle_.add(values());
  for (std::uint32_t index = 0; index < model().claims.size(); ++index) {
    const dsl::Claim& claim = model().claims[index];
    const bool now = values()[claim.watch] != 0;
    const bool counts =
        !claim.possible || (!state_.first[index] && (!claim.within || tick() <= *claim.within));
    if (!now || !counts || (!before.empty() && before[claim.watch] != 0)) continue;
    if (!state_.first[index]) state_.first[index] = tick();
    if (passage == nullptr) continue;
    const bool told = std::any_of(passage->breakings.begin(), passage->breakings.end(),
                                  [&](const Breaking& other) { return other.claim == index; });
    if (!told) passage->breakings.push_back({index, tick(), break_words(model(), claim, chronicle_.trace())});
  }
}

void Session::take_quiet(Value ticks) {
  state_.player.pass(ticks);
  chronicle_.add(values(), ticks);
}

Refusal Session::not_allowed(std::size_t constraint, bool moved) const {
  const std::string what = assumption_words(model(), compiled_->sources, constraint);
  if (!powered()) {
    return {fmt::format("the design takes for granted that power never comes on like this: {}", what),
            "put the inputs elsewhere first"};
  }
  return {moved ? fmt::format("the design takes for granted that nobody does this: {}", what)
                : fmt::format("time can't go on like this, as the design takes for granted: {}", what),
          moved ? "move something else with it, or later" : "move something first"};
}

Refusal Session::not_come() const {
  return {fmt::format("that has not come by {}, though things go on happening",
                      seconds_words(tick(), model().tick_us)),
          "wait for something else, or let a certain time pass"};
}

std::variant<Passage, Refusal> Session::travel(const Leg& leg, const Stop& stop,
                                               const std::atomic<bool>* cancel) {
  Passage passage;
  passage.from = tick() + 1;
  if (!leg.moves.empty() && state_.script) {
    passage.left_run = state_.script_row < state_.script->rows.size();
    state_.script = nullptr;
  }
  if (leg.ticks > longest_run - passage.from && !stop) return too_long(model());
  aim(leg.moves);
  Value steps = 0;
  for (Value left = leg.ticks; left > 0;) {
    if (cancel != nullptr && cancel->load(std::memory_order_relaxed))
      return Refusal{"you stopped it", "nothing was done"};
    if (chronicle_.size() > largest_chronicle || tick() >= longest_run) {
      return stop ? not_come() : too_long(model());
    }
    if (powered() && !is_moving()) {
      const Value quiet = state_.player.quiet(std::min(stop ? no_limit : left, until_script()));
      if (quiet == no_limit && leg.ticks == no_limit) {
        return Refusal{"that would never come: nothing changes any more unless you move something",
                       "move something, or let a certain time pass"};
      }
      const Value passed = std::min({quiet, left, longest_run + 1 - tick()});
      if (passed > 0) {
        take_quiet(passed);
        left -= passed;
        continue;
      }
    }
    if (stop && ++steps > most_steps) return not_come();
    const State before = state_;
    follow_script();
    approach();
    state_.player.step(state_.inputs);
    if (const auto constraint = unkept_in(model(), values())) {
      state_ = before;
      if (tick() + 1 == passage.from) return not_allowed(*constraint, !leg.moves.empty());
      passage.halted = constraint;
      break;
    }
    take_down(before.player.tick() < 0 ? std::vector<Value>{} : before.player.values(), &passage);
    --left;
    if (stop && stop(before.player.tick() < 0 ? values() : before.player.values(), values())) {
      passage.reached = true;
      break;
    }
  }
  passage.to = tick();
  return passage;
}

std::variant<Passage, Refusal> Session::go(const std::vector<Move>& moves, Value ticks, const Stop& stop,
                                           const std::atomic<bool>* cancel) {
  const State before = state_;
  auto outcome = travel({moves, ticks}, stop, cancel);
  if (const auto* passage = std::get_if<Passage>(&outcome)) {
    remember({.state = before, .legs = {{moves, passage->to - before.player.tick()}}});
  } else {
    state_ = before;
    chronicle_.cut(static_cast<std::size_t>(tick() + 1));
  }
  return outcome;
}

// ---- What was done ----

void Session::remember(Done done) {
  if (undo_.size() == most_undo) undo_.erase(undo_.begin());
  undo_.push_back(std::move(done));
  redo_.clear();
}

void Session::place(const std::vector<Move>& moves) {
  remember({.state = state_});
  for (const Move& move : moves) state_.inputs[model().signals[move.signal].input] = move.value;
  state_.script = nullptr;
}

void Session::load(HandRun run) {
  Chronicle unwritten(model().circuit, told_nodes(model()));
  std::swap(unwritten, chronicle_);
  remember({.state = state_, .other = std::make_unique<Chronicle>(std::move(unwritten))});
  state_ = fresh();
  state_.inputs = run.rows.front().inputs;
  state_.script = std::make_shared<const HandRun>(std::move(run));
}

void Session::restart() {
  HandRun start{.rows = {{0, state_.inputs}}, .ticks = 1};
  if (powered()) start.rows.front().inputs = run().rows.front().inputs;
  load(std::move(start));
  state_.script = nullptr;
}

bool Session::undo() {
  if (undo_.empty()) return false;
  Done done = std::move(undo_.back());
  undo_.pop_back();
  std::swap(state_, done.state);
  if (done.other) {
    std::swap(chronicle_, *done.other);
  } else {
    chronicle_.cut(static_cast<std::size_t>(tick() + 1));
  }
  redo_.push_back(std::move(done));
  return true;
}

bool Session::redo() {
  if (redo_.empty()) return false;
  Done done = std::move(redo_.back());
  redo_.pop_back();
  State before = state_;
  if (done.other) std::swap(chronicle_, *done.other);
  for (const Leg& leg : done.legs) static_cast<void>(travel(leg, {}, nullptr));
  state_ = std::move(done.state);
  done.state = std::move(before);
  undo_.push_back(std::move(done));
  return true;
}

Value Session::to_next_movement() const {
  if (!state_.script) return 0;
  if (!powered()) return 1;
  return state_.script_row < state_.script->rows.size() ? until_script() + 1 : to_end_of_run();
}

Value Session::to_end_of_run() const {
  return state_.script ? std::max<Value>(0, state_.script->ticks - 1 - tick()) : 0;
}

HandRun Session::run() const {
  HandRun run{.rows = {}, .ticks = static_cast<Value>(chronicle_.ticks())};
  std::vector<Value> inputs(model().circuit.inputs().size());
  for (const solver::Trace::Moment& moment : trace().moments()) {
    for (std::size_t input = 0; input < inputs.size(); ++input) {
      inputs[input] = moment.values[model().circuit.inputs()[input].node];
    }
    if (run.rows.empty() || run.rows.back().inputs != inputs) {
      run.rows.push_back({static_cast<Value>(moment.tick), inputs});
    }
  }
  return run;
}

}  // namespace detent::cli
