#include "cli/vcd.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>

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

std::string name_of(const dsl::Signal& signal) {
  std::string name = signal.name;
  std::replace(name.begin(), name.end(), ' ', '_');
  return name;
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

}  // namespace

std::string vcd_text(const dsl::Model& model, const solver::Run& run) {
  const solver::Trace trace = solver::replay(model.circuit, run);
  std::string text = "$comment a run found by detent $end\n$timescale 1 us $end\n";
  for (const dsl::Signal& signal : model.signals) {
    text += fmt::format("$comment {}: {} $end\n", name_of(signal), unit_of(signal));
  }
  text += "$scope module design $end\n";
  for (std::size_t index = 0; index < model.signals.size(); ++index) {
    const dsl::Signal& signal = model.signals[index];
    const bool wire = signal.sort.kind == dsl::SortKind::condition;
    text += fmt::format("$var {} {} {} {} $end\n", wire ? "wire" : "integer", wire ? 1 : integer_bits,
                        code_of(index), name_of(signal));
  }
  text += "$upscope $end\n$enddefinitions $end\n";
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
