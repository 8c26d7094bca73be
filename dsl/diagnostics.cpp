// Diagnostics as values: their register, their order, and the name that was probably meant.
#include "dsl/diagnostics.hpp"

#include <algorithm>
#include <iterator>
#include <tuple>

namespace detent::dsl {
namespace {

struct Entry {
  std::string_view name;
  Severity severity;
};
constexpr Entry entries[] = {
#define DETENT_DIAGNOSTIC(name, severity) {#name, Severity::severity},
#include "dsl/diagnostics.def"
#undef DETENT_DIAGNOSTIC
};

char lower(char byte) {
  return byte >= 'A' && byte <= 'Z' ? static_cast<char>(byte - 'A' + 'a') : byte;
}

std::string in_lower_case(std::string_view text) {
  std::string low(text);
  std::transform(low.begin(), low.end(), low.begin(), lower);
  return low;
}

/// Insertions, deletions, replacements and swaps of neighbours between two words: F. J. Damerau, "A technique
/// for computer detection and correction of spelling errors", CACM 7(3), 1964, in the form that edits no
/// stretch twice. Gives up with limit + 1 as soon as the distance is sure to be above the limit.
std::size_t distance(std::string_view a, std::string_view b, std::size_t limit) {
  if (std::max(a.size(), b.size()) - std::min(a.size(), b.size()) > limit) return limit + 1;
  std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (a[i - 1] == b[j - 1] ? 0U : 1U)});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) row[j] = std::min(row[j], before[j - 2] + 1);
    }
    if (*std::min_element(row.begin(), row.end()) > limit) return limit + 1;
    std::swap(before, last);
    std::swap(last, row);
  }
  return last[b.size()];
}

auto order(const Diagnostic& diagnostic) {
  return std::tie(diagnostic.place.file, diagnostic.place.begin, diagnostic.place.end, diagnostic.code,
                  diagnostic.message);
}

}  // namespace

std::string_view code_name(Code code) {
  return entries[static_cast<std::size_t>(code)].name;
}

Severity code_severity(Code code) {
  return entries[static_cast<std::size_t>(code)].severity;
}

bool has_errors(const Diagnostics& diagnostics) {
  return std::any_of(diagnostics.begin(), diagnostics.end(),
                     [](const Diagnostic& each) { return each.severity() == Severity::error; });
}

void sort_by_place(Diagnostics& diagnostics) {
  std::stable_sort(diagnostics.begin(), diagnostics.end(),
                   [](const Diagnostic& a, const Diagnostic& b) { return order(a) < order(b); });
  const auto same = [](const Diagnostic& a, const Diagnostic& b) { return order(a) == order(b); };
  diagnostics.erase(std::unique(diagnostics.begin(), diagnostics.end(), same), diagnostics.end());
}

std::string nearest_name(std::string_view seen, const std::vector<std::string>& known) {
  constexpr std::size_t longest_worth_mending = 200;
  if (seen.empty() || seen.size() > longest_worth_mending) return {};
  const std::string wanted = in_lower_case(seen);
  const std::string* nearest = nullptr;
  std::size_t limit = wanted.size() / 3;
  for (const std::string& name : known) {
    if (name == seen) continue;
    const std::size_t away = distance(wanted, in_lower_case(name), limit);
    if (away > limit || (nearest != nullptr && away == limit)) continue;
    nearest = &name;
    limit = away;
  }
  return nearest == nullptr ? std::string{} : *nearest;
}

}  // namespace detent::dsl
