#include "tests/support/pinned.hpp"

#include <fmt/format.h>

#include <stdexcept>

#include "solver/bounded.hpp"

namespace detent::test {
namespace {

constexpr int last_tick = 60;  // where `now` stops counting: past the end of every row

}  // namespace

std::string pinned(const Rows& inputs) {
  std::string text = fmt::format("signal now = min(previous(now, starting -1) + 1, {})\n", last_tick);
  for (const auto& [name, row] : inputs) {
    text += fmt::format("assume {}_follows_its_row: always ({} == {})\n", name, name, ticks_of_row(row));
  }
  return text;
}

std::string ticks_of_row(const std::string& row) {
  std::string text = "(false";
  for (std::size_t tick = 0; tick < row.size(); ++tick) {
    if (row[tick] == '1') text += fmt::format(" or now == {}", tick);
  }
  return text + ")";
}

std::string follows(const std::string& claim, const std::string& condition, const std::string& row) {
  return fmt::format("claim {}: always (now >= {} or {} == {})\n", claim, row.size(), condition,
                     ticks_of_row(row));
}

solver::Verdict verdict_of(const std::string& text, dsl::Value within) {
  const dsl::Model model = compiled(text);
  solver::BoundedOptions options;
  options.within = within;
  options.claims = {0};
  options.side_findings = false;
  const solver::Report report = solver::check_bounded(model, options);
  if (report.no_run_of) throw std::runtime_error("the assumptions leave no run");
  return report.verdicts.at(0);
}

}  // namespace detent::test
