#include "tests/support/compiled.hpp"

#include <algorithm>
#include <stdexcept>

#include "dsl/front.hpp"
#include "solver/interpreter.hpp"

namespace detent::test {
namespace {

template <typename Named>
const Named& named(const std::vector<Named>& all, const std::string& name) {
  const auto found = std::find_if(all.begin(), all.end(), [&](const Named& one) { return one.name == name; });
  if (found == all.end()) throw std::runtime_error("nothing is called " + name);
  return *found;
}

std::size_t length_of(const Rows& rows) {
  std::size_t length = rows.empty() ? 0 : rows.begin()->second.size();
  for (const auto& [name, row] : rows) {
    if (row.size() != length) throw std::runtime_error("rows of different lengths");
  }
  return length;
}

}  // namespace

dsl::Model compiled(const std::string& text) {
  dsl::Compiled result = dsl::compile_text("test.detent", text);
  if (result.model) return std::move(*result.model);
  std::string messages;
  for (const dsl::Diagnostic& one : result.diagnostics) messages += dsl::to_text(one, result.sources);
  throw std::runtime_error(messages + text);
}

const dsl::Signal& signal_named(const dsl::Model& model, const std::string& name) {
  return named(model.signals, name);
}

const dsl::Claim& claim_named(const dsl::Model& model, const std::string& name) {
  return named(model.claims, name);
}

solver::Run run_of(const dsl::Model& model, const Rows& rows) {
  solver::Run run;
  for (std::size_t tick = 0; tick < length_of(rows); ++tick) {
    solver::Rows::Row values;
    for (const dsl::CircuitInput& input : model.circuit.inputs()) values.push_back(input.range.low);
    for (const auto& [name, row] : rows) values[signal_named(model, name).input] = row[tick] - '0';
    run.inputs.push_back(values);
  }
  return run;
}

std::string row_of(const dsl::Model& model, const solver::Trace& trace, const std::string& name) {
  std::string row;
  for (std::size_t tick = 0; tick < trace.ticks(); ++tick) {
    const dsl::Value value = trace.at(tick, signal_named(model, name).node);
    if (value < 0 || value > 9) throw std::runtime_error(name + " is no digit");
    row += static_cast<char>('0' + value);
  }
  return row;
}

std::string answer(const std::string& text, const Rows& rows, const std::string& name) {
  const dsl::Model model = compiled(text);
  return row_of(model, solver::replay(model.circuit, run_of(model, rows)), name);
}

}  // namespace detent::test
