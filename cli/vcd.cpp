#include "cli/vcd.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <set>
#include <vector>

#include "cli/words.hpp"
#include "solver/interpreter.hpp"

namespace detent::cli {
namespace {

constexpr int integer_bits = 64;

/// Short codes of printable characters, 33 to 126.
std::string code_of(std::size_t index) {
  std::string code;
  do {
    code += static_cast<char>('!' + index % 94);
    index /= 94;
  } while (index > 0);
  return code;
}

/// Where a signal stands: the parts in use that it is in, and its own name.
struct Reference {
  std::vector<std::string> scopes;
  std::string name;
};

/// A name of a design is letters, digits and "_", with dots between parts, but for "thrust received": its
/// blank becomes "_", and one more wherever another signal is called that. A link's wire is 1 while the link is
/// lost, so it is called that.
std::vector<Reference> references_of(const dsl::Model& model) {
  std::set<std::string> taken;
  for (const dsl::Signal& signal : model.signals) taken.insert(signal.name);
  std::vector<Reference> all;
  for (const dsl::Signal& signal : model.signals) {
    std::string name = is_link(signal) ? signal.name + "_lost" : signal.name;
    std::replace(name.begin(), name.end(), ' ', '_');
    while (name != signal.name && !taken.insert(name).second) name += '_';
    Reference reference;
    for (std::size_t dot = name.find('.'); dot != std::string::npos; dot = name.find('.')) {
      reference.scopes.push_back(name.substr(0, dot));
      name.erase(0, dot + 1);
    }
    reference.name = std::move(name);
    all.push_back(std::move(reference));
  }
  return all;
}

/// Leaves and enters scopes, a part in use each. A scope may be entered again.
std::string change_scope(std::vector<std::string>& now, const std::vector<std::string>& wanted) {
  const auto apart = std::mismatch(now.begin(), now.end(), wanted.begin(), wanted.end());
  std::string text;
  for (auto left = apart.first; left != now.end(); ++left) text += "$upscope $end\n";
  for (auto entered = apart.second; entered != wanted.end(); ++entered) {
    text += fmt::format("$scope module {} $end\n", *entered);
  }
  now = wanted;
  return text;
}

std::string unit_of(const dsl::Signal& signal) {
  const dsl::Sort& sort = signal.sort;
  if (sort.kind == dsl::SortKind::level) {
    return fmt::format("1 is {}", dsl::to_text(1, sort));
  }
  std::string words;
  for (std::size_t index = 0; index < sort.positions.size(); ++index) {
    words += fmt::format("{}{} is {}", index == 0 ? "" : ", ", index, sort.positions[index]);
  }
  return words;
}

std::string bits(dsl::Value value) {
  std::string text;
  for (int bit = integer_bits - 1; bit >= 0; --bit) {
    text += (static_cast<std::uint64_t>(value) >> static_cast<unsigned>(bit) & 1U) != 0 ? '1' : '0';
  }
  // Leading bits that repeat the next may be left out of a number that is extended by 0; a negative one is
  // whole.
  return value < 0 ? text : text.substr(std::min(text.find('1'), text.size() - 1));
}

std::string declarations(const dsl::Model& model) {
  std::string text = "$comment A run of a design, written by detent $end\n$timescale 1 us $end\n";
  for (const dsl::Signal& signal : model.signals) {
    text += fmt::format("$comment {}: {} $end\n", signal.name, unit_of(signal));
  }
  const std::vector<Reference> references = references_of(model);
  std::vector<std::string> scope;
  text += "$scope module design $end\n";
  for (std::size_t index = 0; index < model.signals.size(); ++index) {
    const bool wire = model.signals[index].sort.kind == dsl::SortKind::condition;
    text += change_scope(scope, references[index].scopes);
    text += fmt::format("$var {} {} {} {} $end\n", wire ? "wire" : "integer", wire ? 1 : integer_bits,
                        code_of(index), references[index].name);
  }
  return text + change_scope(scope, {}) + "$upscope $end\n$enddefinitions $end\n";
}

}  // namespace

std::string vcd_text(const dsl::Model& model, const solver::Run& run) {
  const solver::Trace trace = solver::replay(model.circuit, run);
  std::string text = declarations(model);
  for (std::size_t moment = 0; moment < trace.moments().size(); ++moment) {
    const std::vector<dsl::Value>& values = trace.moments()[moment].values;
    std::string changes;
    for (std::size_t index = 0; index < model.signals.size(); ++index) {
      const dsl::Signal& signal = model.signals[index];
      const dsl::Value value = values[signal.node];
      if (moment > 0 && trace.moments()[moment - 1].values[signal.node] == value) continue;
      changes += signal.sort.kind == dsl::SortKind::condition
                     ? fmt::format("{}{}\n", value, code_of(index))
                     : fmt::format("b{} {}\n", bits(value), code_of(index));
    }
    if (!changes.empty()) {
      const auto tick = static_cast<std::int64_t>(trace.moments()[moment].tick);
      text += fmt::format("#{}\n{}", tick * model.tick_us, changes);
    }
  }
  return text + fmt::format("#{}\n", static_cast<std::int64_t>(trace.ticks()) * model.tick_us);
}

}  // namespace detent::cli
