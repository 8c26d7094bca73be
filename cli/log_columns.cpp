#include "cli/log_columns.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/log_options.hpp"
#include "cli/time_text.hpp"
#include "cli/value_text.hpp"
#include "dsl/diagnostics.hpp"
#include "dsl/units.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Signal;
using dsl::SignalRole;
using dsl::SortKind;

/// "thrust %", "thrust [%]", "thrust (%)": name and unit.
struct Header {
  std::string name;
  std::string unit;
};

Header split_header(std::string_view text) {
  text = trimmed(text);
  const char last = text.empty() ? ' ' : text.back();
  if (last == ']' || last == ')') {
    const std::size_t open = text.rfind(last == ']' ? '[' : '(');
    if (open != std::string_view::npos) {
      return {std::string(trimmed(text.substr(0, open))),
              std::string(trimmed(text.substr(open + 1, text.size() - open - 2)))};
    }
  }
  const std::size_t blank = text.find_last_of(" \t");
  if (blank == std::string_view::npos) return {std::string(text), ""};
  const std::string_view word = text.substr(blank + 1);
  const bool is_unit = (!word.empty() && dsl::is_level_unit(word)) || dsl::is_time_unit(word);
  if (!is_unit) return {std::string(text), ""};
  return {std::string(trimmed(text.substr(0, blank))), std::string(word)};
}

class Finder {
 public:
  Finder(const Model& model, const std::vector<std::string>& headers, const LogWishes& wishes)
      : model_(model), headers_(headers), wishes_(wishes), taken_(headers.size(), false) {
    for (const std::string& header : headers) split_.push_back(split_header(header));
    found_.fields = headers.size();
  }

  std::variant<LogColumns, CommandResult> find() {
    for (auto step : {&Finder::read_options, &Finder::find_time, &Finder::find_mapped, &Finder::find_named,
                      &Finder::fill_in}) {
      if (auto problem = (this->*step)()) return std::move(*problem);
    }
    return std::move(found_);
  }

 private:
  using Problem = std::optional<CommandResult>;

  Problem read_options() {
    auto read = read_log_options(model_, wishes_);
    if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
    options_ = std::get<LogOptions>(std::move(read));
    return std::nullopt;
  }

  /// The only column with this header, as a whole or without its unit.
  std::variant<std::size_t, CommandResult> column_called(const std::string& option, const std::string& name) {
    std::vector<std::size_t> whole, part;
    for (std::size_t index = 0; index < headers_.size(); ++index) {
      if (trimmed(headers_[index]) == name) whole.push_back(index);
      if (split_[index].name == name) part.push_back(index);
    }
    const std::vector<std::size_t>& all = whole.empty() ? part : whole;
    if (all.size() == 1) return all.front();
    if (all.empty()) {
      return usage_error(fmt::format("{}no column of the log is called '{}'", option, name.substr(0, 80)),
                         near_header(name));
    }
    return usage_error(
        fmt::format("{}{} columns of the log are called '{}'", option, all.size(), name.substr(0, 80)),
        "rename all but one in the header");
  }

  [[nodiscard]] std::string near_header(const std::string& name) const {
    std::vector<std::string> names;
    for (const Header& header : split_) names.push_back(header.name);
    const std::string near = name.size() > 80 ? "" : dsl::nearest_name(name, names);
    return near.empty() ? name_mend(name, headers_, "the columns are")
                        : fmt::format("did you mean '{}'?", near);
  }

  Problem find_time() {
    Header wanted{"time", ""};
    if (wishes_.time) wanted = split_header(*wishes_.time);
    auto column = column_called(wishes_.time ? "--time: " : "", wanted.name);
    if (wishes_.time && std::holds_alternative<CommandResult>(column)) {
      auto literal = column_called("--time: ", *wishes_.time);
      if (std::holds_alternative<std::size_t>(literal)) column = std::move(literal);
    }
    if (auto* problem = std::get_if<CommandResult>(&column)) {
      if (!wishes_.time)
        return usage_error("no column of the log is called 'time'", "name it with its unit: --time \"t ms\"");
      return std::move(*problem);
    }
    found_.time_field = std::get<std::size_t>(column);
    found_.time_header = headers_[found_.time_field];
    const std::string& in_header = split_[found_.time_field].unit;
    const std::string unit = wanted.unit.empty() ? in_header : wanted.unit;
    if (!wanted.unit.empty() && !in_header.empty() && wanted.unit != in_header) {
      return usage_error(fmt::format("--time: the header says '{}'", found_.time_header),
                         "say the same unit, or none");
    }
    const auto length = unit_nanoseconds(unit, model_.tick_us);
    if (!length) {
      return usage_error(
          fmt::format("the time column '{}' says no unit of time", found_.time_header),
          fmt::format("write it behind the name: --time \"{} ms\"", split_[found_.time_field].name));
    }
    found_.time_unit = *length;
    taken_[found_.time_field] = true;
    return std::nullopt;
  }

  Problem find_mapped() {
    for (const auto& [signal, header] : options_.columns) {
      auto column = column_called("--column: ", header);
      if (auto* problem = std::get_if<CommandResult>(&column)) return std::move(*problem);
      if (auto problem = take(std::get<std::size_t>(column), signal)) return problem;
    }
    return std::nullopt;
  }

  Problem find_named() {
    for (std::size_t index = 0; index < headers_.size(); ++index) {
      if (taken_[index]) continue;
      std::optional<std::uint32_t> signal = signal_called(std::string(trimmed(headers_[index])));
      if (!signal) signal = signal_called(split_[index].name);
      const bool mapped = signal && std::any_of(options_.columns.begin(), options_.columns.end(),
                                                [&](const auto& one) { return one.first == *signal; });
      if (!signal || mapped) {
        found_.unknown.push_back(headers_[index]);
        continue;
      }
      if (auto problem = take(index, *signal)) return problem;
    }
    return std::nullopt;
  }

  Problem fill_in() {
    for (std::uint32_t index = 0; index < model_.signals.size(); ++index) {
      const Signal& signal = model_.signals[index];
      const bool has = has_column(index);
      if (signal.role == SignalRole::output && !has) found_.not_logged.push_back(signal.name);
      if (signal.role == SignalRole::hand && !has) {
        if (auto problem = keep_still(index)) return problem;
      }
    }
    return std::nullopt;
  }

  Problem keep_still(std::uint32_t index) {
    const Signal& signal = model_.signals[index];
    const auto given = std::find_if(options_.stills.begin(), options_.stills.end(),
                                    [&](const Move& move) { return move.signal == index; });
    if (given != options_.stills.end()) {
      found_.still.emplace_back(index, given->value);
      return std::nullopt;
    }
    if (signal.element != "link" && signal.element != "power_up") {
      return usage_error(
          fmt::format("the log has no column for the input '{}'", signal.name),
          fmt::format("name its column: --column {0}=HEADER, or say that it stood still: --still \"{1}\"",
                      signal.name, still_example(index)));
    }
    // Edges count unless a design says otherwise; a link that nobody logs has not been lost.
    const dsl::Value value = signal.element == "power_up" ? 1 : 0;
    found_.still.emplace_back(index, value);
    found_.assumed.push_back(move_text(model_, {index, value}));
    return std::nullopt;
  }

  [[nodiscard]] std::string still_example(std::uint32_t index) const {
    const Signal& signal = model_.signals[index];
    return fmt::format("{}={}", signal.name, dsl::to_text(at_rest(model_)[signal.input], signal.sort));
  }

  [[nodiscard]] std::optional<std::uint32_t> signal_called(const std::string& name) const {
    for (std::uint32_t index = 0; index < model_.signals.size(); ++index) {
      if (model_.signals[index].name == name) return index;
    }
    return std::nullopt;
  }

  [[nodiscard]] bool has_column(std::uint32_t signal) const {
    const auto is = [signal](const LogColumn& column) { return column.signal == signal; };
    return std::any_of(found_.inputs.begin(), found_.inputs.end(), is) ||
           std::any_of(found_.outputs.begin(), found_.outputs.end(), is);
  }

  Problem take(std::size_t field, std::uint32_t index) {
    const Signal& signal = model_.signals[index];
    LogColumn column{.field = field, .header = headers_[field], .signal = index};
    if (taken_[field]) {
      return usage_error(fmt::format("the column '{}' is named for two things", column.header),
                         "name another for one of them");
    }
    if (has_column(index)) {
      return usage_error(fmt::format("the log has two columns for '{}'", signal.name),
                         fmt::format("say which: --column {}=HEADER, and rename the other", signal.name));
    }
    if (const auto scale = options_.scales.find(index); scale != options_.scales.end())
      column.scale = scale->second.scale;
    if (const auto words = options_.words.find(index); words != options_.words.end())
      column.words = words->second;
    const std::string& unit = split_[field].unit;
    const auto scale = options_.scales.find(index);
    const std::string expected = scale != options_.scales.end() ? scale->second.unit : signal.sort.unit;
    const bool any = unit.empty() || (scale != options_.scales.end() && expected.empty());
    if (signal.sort.kind == SortKind::level && !any && unit != expected) {
      return usage_error(
          fmt::format("the column '{}' is in {}, but {} is meant in {}", column.header, unit, signal.name,
                      expected.empty() ? "plain numbers" : expected),
          fmt::format("say which levels are which: --scale \"{}=1000..2000 {}:{}..{}\"", signal.name, unit,
                      bare(signal, model_.circuit.node(signal.node).range.low),
                      bare(signal, model_.circuit.node(signal.node).range.high)));
    }
    taken_[field] = true;
    (signal.role == SignalRole::hand ? found_.inputs : found_.outputs).push_back(std::move(column));
    return std::nullopt;
  }

  [[nodiscard]] static std::string bare(const Signal& signal, dsl::Value value) {
    dsl::Sort sort = signal.sort;
    sort.unit.clear();
    return dsl::to_text(value, sort);
  }

  const Model& model_;
  const std::vector<std::string>& headers_;
  const LogWishes& wishes_;
  std::vector<bool> taken_;
  std::vector<Header> split_;
  LogOptions options_;
  LogColumns found_;
};

}  // namespace

std::variant<LogColumns, CommandResult> find_columns(const Model& model,
                                                     const std::vector<std::string>& headers,
                                                     const LogWishes& wishes) {
  return Finder(model, headers, wishes).find();
}

}  // namespace detent::cli
