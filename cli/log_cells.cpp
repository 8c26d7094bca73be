// Cells of a log as numbers.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cctype>

#include "cli/log_columns.hpp"
#include "cli/value_text.hpp"
#include "dsl/decimals.hpp"

namespace detent::cli {
namespace {

using dsl::Signal;
using dsl::SortKind;

bool same_letters(std::string_view one, std::string_view other) {
  const auto lower = [](char letter) { return std::tolower(static_cast<unsigned char>(letter)); };
  return std::equal(one.begin(), one.end(), other.begin(), other.end(),
                    [&](char a, char b) { return lower(a) == lower(b); });
}

std::optional<std::int64_t> by_rules(const LogColumn& column, std::string_view text, bool comma) {
  for (const WordRule& rule : column.words) {
    if (rule.text == text) return rule.value;
  }
  const std::optional<Decimal> number = read_decimal(text, comma);
  const auto value = number ? scaled(*number, fine_per_step) : std::nullopt;
  if (!value) return std::nullopt;
  for (const WordRule& rule : column.words) {
    if (rule.range && rule.range->first <= value->value && value->value <= rule.range->second)
      return rule.value;
  }
  return std::nullopt;
}

std::optional<std::int64_t> read_word(const Signal& signal, std::string_view text) {
  const std::vector<std::string> names = value_names(signal);
  for (const bool exactly : {true, false}) {
    for (std::size_t index = 0; index < names.size(); ++index) {
      if (exactly ? names[index] == text : same_letters(names[index], text))
        return static_cast<std::int64_t>(index);
    }
  }
  if (signal.sort.kind != SortKind::condition) return std::nullopt;
  constexpr std::array<std::string_view, 4> no{"off", "0", "false", "no"};
  constexpr std::array<std::string_view, 4> yes{"on", "1", "true", "yes"};
  for (std::size_t index = 0; index < yes.size(); ++index) {
    if (same_letters(no[index], text)) return 0;
    if (same_letters(yes[index], text)) return 1;
  }
  return std::nullopt;
}

/// So that the difference of any two levels is one that can be counted with.
constexpr std::int64_t largest = 4'000'000'000'000'000'000;

std::optional<std::int64_t> within_limits(const std::optional<Scaled>& number) {
  const bool good = number && number->value <= largest && number->value >= -largest;
  return good ? std::optional(number->value) : std::nullopt;
}

std::optional<std::int64_t> read_level(const Signal& signal, const LogColumn& column, std::string_view text,
                                       bool comma) {
  const std::optional<Decimal> number = read_decimal(text, comma);
  if (!number) return std::nullopt;
  if (!column.scale) {
    return within_limits(scaled(*number, Wide{fine_per_step} * dsl::power_of_ten(signal.sort.decimals)));
  }
  const auto raw = within_limits(scaled(*number, fine_per_step));
  if (!raw) return std::nullopt;
  const LevelScale& scale = *column.scale;
  Wide run = Wide{scale.from_high} - scale.from_low;
  Wide rise = Wide{scale.to_high} - scale.to_low;
  if (run < 0) {
    run = -run;
    rise = -rise;
  }
  const Wide fine = scale.to_low + nearest_quotient((Wide{*raw} - scale.from_low) * rise, run);
  return fine >= -largest && fine <= largest ? std::optional(static_cast<std::int64_t>(fine)) : std::nullopt;
}

}  // namespace

std::optional<std::int64_t> read_cell(const dsl::Model& model, const LogColumn& column, std::string_view text,
                                      bool comma) {
  const Signal& signal = model.signals[column.signal];
  text = trimmed(text);
  if (signal.sort.kind == SortKind::level) return read_level(signal, column, text, comma);
  if (!column.words.empty()) return by_rules(column, text, comma);
  return read_word(signal, text);
}

std::string cell_mend(const dsl::Model& model, const LogColumn& column) {
  const Signal& signal = model.signals[column.signal];
  if (signal.sort.kind == SortKind::level) {
    return "write a plain number; leave the cell empty where nothing was measured";
  }
  if (!column.words.empty()) return "say in --words what it means";
  const bool condition = signal.sort.kind == SortKind::condition;
  return fmt::format(
      "write {}{}, or say what it means: --words \"{}=…:{}\"", fmt::join(value_names(signal), " or "),
      condition ? ", or on/off, 1/0, true/false, yes/no" : "", signal.name, value_names(signal).front());
}

}  // namespace detent::cli
