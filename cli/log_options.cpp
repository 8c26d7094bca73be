#include "cli/log_options.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "dsl/decimals.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Signal;
using dsl::SortKind;

template <class T>
using Or = std::variant<T, CommandResult>;

constexpr const char* scale_form = "write for example --scale \"thrust=1000..2000 us:-100..100 %\"";
constexpr const char* words_form =
    "write for example --words \"guard=0:safe,1:run\" or \"guard=900..1300:safe,1700..2100:run\"";

/// "NAME=REST".
Or<std::pair<std::uint32_t, std::string_view>> split(const Model& model, const std::string& option,
                                                     std::string_view text, const char* form) {
  const std::size_t equals = text.find('=');
  if (equals == std::string_view::npos)
    return usage_error(fmt::format("{}: '{}' has no '='", option, text), form);
  const std::string_view name = trimmed(text.substr(0, equals));
  for (std::uint32_t index = 0; index < model.signals.size(); ++index) {
    if (model.signals[index].name == name) return std::pair{index, trimmed(text.substr(equals + 1))};
  }
  return usage_error(fmt::format("{}: nothing in the design is called '{}'", option, name),
                     name_mend(name, signal_names(model, false), "there are"));
}

/// "1000..2000 us": both ends in millionths of `unit`, and the unit.
struct Span {
  std::int64_t low = 0, high = 0;
  std::string unit;
};

/// One of them; nothing if that is no number, or one too large to reckon with.
std::optional<std::int64_t> read_end(std::string_view text, Wide unit) {
  constexpr std::int64_t largest = 4'000'000'000'000'000'000;
  const auto number = read_decimal(text);
  if (!number) return std::nullopt;
  const auto value = scaled(*number, unit);
  if (!value || value->value > largest || value->value < -largest) return std::nullopt;
  return value->value;
}

std::optional<Span> read_span(std::string_view text, Wide unit) {
  const std::size_t dots = text.find("..");
  if (dots == std::string_view::npos) return std::nullopt;
  std::string_view high = trimmed(text.substr(dots + 2));
  const std::size_t end = std::min(high.find_first_not_of("+-.0123456789"), high.size());
  const auto first = read_end(trimmed(text.substr(0, dots)), unit);
  const auto second = read_end(high.substr(0, end), unit);
  if (!first || !second) return std::nullopt;
  return Span{*first, *second, std::string(trimmed(high.substr(end)))};
}

std::optional<CommandResult> read_scale(const Model& model, std::uint32_t index, std::string_view text,
                                        LogOptions& options) {
  const Signal& signal = model.signals[index];
  if (signal.sort.kind != SortKind::level) {
    return usage_error(fmt::format("--scale: {} is no level", signal.name), words_form);
  }
  const std::size_t colon = std::min(text.find(':'), text.size());
  const auto from = read_span(text.substr(0, colon), fine_per_step);
  const auto to =
      colon < text.size()
          ? read_span(text.substr(colon + 1), Wide{fine_per_step} * dsl::power_of_ten(signal.sort.decimals))
          : std::nullopt;
  if (!from || !to || from->low == from->high) {
    return usage_error(fmt::format("--scale: '{}' says no two pairs of levels", text.substr(0, 80)),
                       scale_form);
  }
  if (!to->unit.empty() && to->unit != signal.sort.unit) {
    return usage_error(fmt::format("--scale: {} is in {} in the design", signal.name,
                                   signal.sort.unit.empty() ? "plain numbers" : signal.sort.unit),
                       scale_form);
  }
  if (options.scales.count(index) > 0) {
    return usage_error(fmt::format("--scale: {} is scaled twice", signal.name), "leave one of the two out");
  }
  options.scales[index] = {{from->low, from->high, to->low, to->high}, from->unit};
  return std::nullopt;
}

/// A cell must mean one thing.
std::optional<CommandResult> word_problem(const WordRule& rule, const std::vector<WordRule>& others) {
  const std::string shown = rule.text.substr(0, 80);
  const bool half = !rule.range && rule.text.find("..") != std::string::npos;
  if (half || (rule.range && rule.range->first > rule.range->second)) {
    return usage_error(fmt::format("--words: '{}' is no range that holds anything", shown),
                       "write the lower end, two points and the higher end: 900..1300");
  }
  for (const WordRule& other : others) {
    const bool overlap = rule.range && other.range && rule.range->first <= other.range->second &&
                         other.range->first <= rule.range->second;
    if (overlap || rule.text == other.text) {
      return usage_error(
          fmt::format("--words: '{}' and '{}' can mean the same cell", other.text.substr(0, 80), shown),
          "part them, so that every cell means one thing");
    }
  }
  return std::nullopt;
}

std::optional<CommandResult> read_words(const Model& model, std::uint32_t index, std::string_view text,
                                        LogOptions& options) {
  const Signal& signal = model.signals[index];
  if (signal.sort.kind == SortKind::level) {
    return usage_error(fmt::format("--words: {} is a level", signal.name), scale_form);
  }
  std::vector<WordRule>& rules = options.words[index];
  while (true) {
    const std::size_t comma = std::min(text.find(','), text.size());
    const std::string_view one = trimmed(text.substr(0, comma));
    const std::size_t colon = one.rfind(':');
    if (colon == std::string_view::npos) {
      return usage_error(fmt::format("--words: '{}' has no ':'", one.substr(0, 80)), words_form);
    }
    const Reading<dsl::Value> value = read_value(model, signal, one.substr(colon + 1));
    if (!value.value) return usage_error("--words: " + value.problem, value.mend);
    const std::string_view key = trimmed(one.substr(0, colon));
    WordRule rule{.text = std::string(key), .value = *value.value};
    if (const auto span = read_span(key, fine_per_step)) rule.range = {span->low, span->high};
    if (auto problem = word_problem(rule, rules)) return problem;
    rules.push_back(std::move(rule));
    if (comma == text.size()) return std::nullopt;
    text.remove_prefix(comma + 1);
  }
}

std::optional<CommandResult> read_still(const Model& model, std::uint32_t index, std::string_view text,
                                        LogOptions& options) {
  const Signal& signal = model.signals[index];
  if (signal.role != dsl::SignalRole::hand) {
    return usage_error(fmt::format("--still: {} is no input", signal.name),
                       name_mend("", signal_names(model, true), "the inputs are"));
  }
  const Reading<dsl::Value> value = read_value(model, signal, text);
  if (!value.value) return usage_error("--still: " + value.problem, value.mend);
  if (std::any_of(options.stills.begin(), options.stills.end(),
                  [&](const Move& move) { return move.signal == index; })) {
    return usage_error(fmt::format("--still: {} is told twice", signal.name), "leave one of the two out");
  }
  options.stills.push_back({index, *value.value});
  return std::nullopt;
}

std::optional<CommandResult> read_column(const Model&, std::uint32_t index, std::string_view text,
                                         LogOptions& options) {
  options.columns.emplace_back(index, std::string(text));
  return std::nullopt;
}

}  // namespace

Or<LogOptions> read_log_options(const Model& model, const LogWishes& wishes) {
  struct Kind {
    const char* option;
    const std::vector<std::string>* texts;
    const char* form;
    std::optional<CommandResult> (*read)(const Model&, std::uint32_t, std::string_view, LogOptions&);
  };
  const Kind kinds[] = {
      {"--column", &wishes.columns, "write for example --column thrust=ch3", read_column},
      {"--scale", &wishes.scales, scale_form, read_scale},
      {"--words", &wishes.words, words_form, read_words},
      {"--still", &wishes.stills, "write for example --still radio=there", read_still},
  };
  LogOptions options;
  for (const Kind& kind : kinds) {
    for (const std::string& text : *kind.texts) {
      auto parts = split(model, kind.option, text, kind.form);
      if (auto* problem = std::get_if<CommandResult>(&parts)) return std::move(*problem);
      const auto& [index, rest] = std::get<0>(parts);
      if (auto problem = kind.read(model, index, rest, options)) return std::move(*problem);
    }
  }
  return options;
}

}  // namespace detent::cli
