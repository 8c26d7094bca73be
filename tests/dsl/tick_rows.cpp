#include "tick_rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <sstream>
#include <stdexcept>

#include "page_blocks.hpp"
#include "solver/interpreter.hpp"

namespace detent::test {
namespace {

using dsl::Value;
using Row = std::vector<Value>;

std::vector<std::string> words_of(const std::string& line) {
  std::istringstream stream(line);
  std::vector<std::string> words;
  for (std::string word; stream >> word;) words.push_back(word);
  return words;
}

/// By saying each value that it could be, so that there is one way only to word a value.
Value value_of(const std::string& word, const dsl::Signal& signal, const dsl::Range& range) {
  const std::string unit = signal.sort.unit.empty() ? "" : " " + signal.sort.unit;
  for (Value value = range.low; value <= range.high; ++value) {
    if (dsl::to_text(value, signal.sort) == word + unit) return value;
  }
  throw std::runtime_error(fmt::format("'{}' is never '{}'", signal.name, word));
}

Row digits_of(const std::vector<std::string>& words, const std::string& name) {
  Row row;
  for (const std::string& word : words) {
    for (const char digit : word) {
      if (digit != '0' && digit != '1') throw std::runtime_error("a row of '" + name + "' has 0 and 1 only");
      row.push_back(digit - '0');
    }
  }
  return row;
}

Row row_of(std::vector<std::string> words, const dsl::Signal& signal, const dsl::Model& model) {
  words.erase(words.begin());
  if (signal.sort.kind == dsl::SortKind::condition) return digits_of(words, signal.name);
  Row row;
  for (const std::string& word : words) {
    row.push_back(value_of(word, signal, model.circuit.node(signal.node).range));
  }
  return row;
}

const dsl::Signal& signal_called(const std::string& name, const dsl::Model& model) {
  const auto found = std::find_if(model.signals.begin(), model.signals.end(),
                                  [&](const dsl::Signal& signal) { return signal.name == name; });
  if (found == model.signals.end()) throw std::runtime_error("nothing is called '" + name + "'");
  return *found;
}

std::map<std::string, Row> rows_of(const std::string& text, const dsl::Model& model) {
  std::map<std::string, Row> rows;
  for (const std::string& line : lines_of(text)) {
    const std::vector<std::string> words = words_of(line);
    if (words.empty()) continue;
    rows[words[0]] = row_of(words, signal_called(words[0], model), model);
    if (rows[words[0]].size() != rows.begin()->second.size()) {
      throw std::runtime_error("the row of '" + words[0] + "' is longer or shorter than another");
    }
  }
  return rows;
}

solver::Run run_of(const std::map<std::string, Row>& rows, const dsl::Model& model) {
  solver::Run run;
  const std::size_t ticks = rows.begin()->second.size();
  run.inputs.push_back(Row(model.circuit.inputs().size(), 0), ticks);
  for (const dsl::Signal& signal : model.signals) {
    if (signal.role != dsl::SignalRole::hand) continue;
    if (!rows.contains(signal.name)) throw std::runtime_error("'" + signal.name + "' has no row");
    for (std::size_t tick = 0; tick < ticks; ++tick) {
      run.inputs.set(tick, tick + 1, signal.input, rows.at(signal.name)[tick]);
    }
  }
  if (!solver::is_well_formed(model.circuit, run)) throw std::runtime_error("an input cannot do this");
  return run;
}

}  // namespace

std::vector<std::string> departures(const dsl::Model& model, const std::string& text) {
  const std::map<std::string, Row> rows = rows_of(text, model);
  if (rows.empty()) throw std::runtime_error("there are no rows");
  const solver::Trace trace = solver::replay(model.circuit, run_of(rows, model));
  std::vector<std::string> wrong;
  for (const auto& [name, row] : rows) {
    const dsl::Signal& signal = signal_called(name, model);
    std::vector<std::string> seen;
    for (std::size_t tick = 0; tick < row.size(); ++tick) {
      const Value value = trace.at(tick, signal.node);
      seen.push_back(signal.sort.kind == dsl::SortKind::condition ? std::to_string(value)
                                                                  : dsl::to_text(value, signal.sort));
      if (value != row[tick]) wrong.push_back(fmt::format("{} at tick {}", name, tick));
    }
    if (!wrong.empty()) wrong.push_back(fmt::format("{} is {}", name, fmt::join(seen, " ")));
  }
  return wrong;
}

}  // namespace detent::test
