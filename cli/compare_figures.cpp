// Each figure on a line for each design, then the run that shows it; one that shows it for both is told once.
#include "cli/compare_figures.hpp"

#include <fmt/format.h>

#include "cli/compare_run.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::side_a;
using dsl::side_b;
using solver::Figure;
using solver::FigureKind;

constexpr const char* indent = "    ";

bool is_time(FigureKind kind) {
  return kind == FigureKind::time_to_goal || kind == FigureKind::time_to_rest;
}

std::string amount_words(FigureKind kind, Value value, std::int64_t tick_us) {
  if (is_time(kind)) {
    return value == 0 ? "0 s (in that very tick)"
                      : fmt::format("{} ({})", seconds_words(value, tick_us),
                                    count_words(static_cast<std::size_t>(value), "tick"));
  }
  return count_words(static_cast<std::size_t>(value),
                     kind == FigureKind::slips_to_goal ? "input" : "movement");
}

std::string undecided_words(const Figure& figure, std::int64_t tick_us) {
  const auto amount = [&](Value value) { return amount_words(figure.kind, value, tick_us); };
  if (!figure.run) return "undecided: no run was found, and no proof that there is none";
  if (figure.kind == FigureKind::time_to_rest) {
    return fmt::format("undecided: {} or more", amount(figure.value));
  }
  return fmt::format("undecided: from {} to {}", amount(figure.floor), amount(figure.value));
}

std::string why_left_out(const CompareResult& result, FigureKind kind, std::size_t side) {
  if (kind != FigureKind::time_to_rest) return result.goal.why_not[side];
  return result.lock.why_not[side].empty() ? result.rest.why_not[side] : result.lock.why_not[side];
}

std::string ending_words(const CompareResult& result, const Figure& figure) {
  const std::int64_t tick_us = result.both->model.tick_us;
  if (figure.state == Figure::State::endless) {
    return "Here it is still not at rest, and it will never be while the lock stays on.";
  }
  if (figure.kind == FigureKind::time_to_rest) {
    return fmt::format("Here it is still not at rest; it is so {} after the lock at the latest.",
                       seconds_words(figure.value, tick_us));
  }
  if (figure.kind == FigureKind::movements_to_lock) return "Here the goal is off again.";
  return "Here the goal is reached.";
}

/// The condition that the run of a figure leads to, and the signals that it names.
void aim(SharedRun& shared, const CompareResult& result, FigureKind kind, std::size_t side) {
  const solver::FigureConditions& conditions = result.questions.figures[side];
  const dsl::NodeId node = kind == FigureKind::time_to_rest ? conditions.rest : conditions.goal;
  shared.about = result.both->node_of[side][node];
  for (const dsl::Claim& claim : result.model(side).claims) {
    if (!claim.name.ends_with('?') || claim.first.node != node) continue;
    for (const std::uint32_t mention : claim.first.mentions) {
      shared.names.push_back(result.both->signal_of[side][mention]);
    }
  }
}

void add_run(Page& page, const CompareResult& result, std::size_t index, std::size_t side,
             const CompareWishes& wishes, const Terminal& terminal) {
  const Figure& figure = result.comparison->figures[side][index];
  SharedRun shared{.model = result.both->model, .run = *figure.run};
  shared.ending = ending_words(result, figure);
  shared.all_signals = wishes.all_signals;
  aim(shared, result, figure.kind, side);
  add_page(page, shared_run_page(shared, std::string(indent) + indent, terminal));
}

bool same_run(const Figure& one, const Figure& other) {
  return one.run && other.run && one.run->inputs == other.run->inputs;
}

void add_line(Page& page, const CompareResult& result, const Figure& figure, const std::string& sides,
              std::size_t side, const Terminal& terminal) {
  const Span words = figure_answer(result, figure, side);
  add_paragraph(page, fmt::format("{}{}: ", indent, sides), words.text, terminal, words.style);
}

void add_figure(Page& page, const CompareResult& result, std::size_t index, const CompareWishes& wishes,
                const Terminal& terminal) {
  const Figure& a = result.comparison->figures[side_a][index];
  const Figure& b = result.comparison->figures[side_b][index];
  page.push_back({{"  " + figure_name(a.kind), Style::strong}});
  const bool one_run = same_run(a, b) || !a.run || wishes.brief;
  const bool one_line = same_figure(a, b) && one_run && a.state != Figure::State::undecided &&
                        (a.state != Figure::State::left_out ||
                         why_left_out(result, a.kind, side_a) == why_left_out(result, b.kind, side_b));
  for (const std::size_t side : {side_a, side_b}) {
    if (one_line && side == side_b) break;
    const Figure& figure = side == side_a ? a : b;
    add_line(page, result, figure, one_line ? "A and B" : side == side_a ? "A" : "B", side, terminal);
    const bool again = side == side_b && same_run(a, b) && same_figure(a, b);
    if (figure.run && !again && !wishes.brief) add_run(page, result, index, side, wishes, terminal);
  }
}

std::string condition_words(const ComparedCondition& condition) {
  const auto text = [&](std::size_t side) {
    return condition.why_not[side].empty() ? condition.text[side] : "";
  };
  if (text(side_a) == text(side_b)) return text(side_a);
  return fmt::format("{} in A, {} in B", text(side_a).empty() ? "none" : text(side_a),
                     text(side_b).empty() ? "none" : text(side_b));
}

}  // namespace

std::string figure_name(FigureKind kind) {
  switch (kind) {
    case FigureKind::movements_to_goal:
      return "fewest movements from power-up to the goal";
    case FigureKind::slips_to_goal:
      return "fewest inputs that move on the way (one: a slip of one hand will do)";
    case FigureKind::time_to_goal:
      return "shortest time from power-up to the goal";
    case FigureKind::movements_to_lock:
      return "fewest movements until the goal is off again";
    case FigureKind::time_to_rest:
      return "longest time from the lock to the outputs at rest";
  }
  return "";
}

namespace {

/// "2 movements", "0.02 s (1 tick)", "never", "at least 3 s, how long is undecided".
std::string figure_words(const Figure& figure, std::int64_t tick_us) {
  switch (figure.state) {
    case Figure::State::exact:
      return amount_words(figure.kind, figure.value, tick_us);
    case Figure::State::none:
      return "never: no run of any length gets there";
    case Figure::State::endless:
      return "for ever: it never comes to rest";
    case Figure::State::undecided:
      return undecided_words(figure, tick_us);
    case Figure::State::left_out:
      return "left out";
  }
  return "";
}

}  // namespace

Span figure_answer(const CompareResult& result, const Figure& figure, std::size_t side) {
  if (figure.state == Figure::State::left_out) {
    return {"left out: " + why_left_out(result, figure.kind, side)};
  }
  return {figure_words(figure, result.both->model.tick_us),
          figure.state == Figure::State::undecided ? Style::unsure : Style::plain};
}

std::vector<std::pair<std::string, std::string>> figure_conditions(const CompareResult& result) {
  std::vector<std::pair<std::string, std::string>> said;
  const auto add = [&](const char* name, const ComparedCondition& condition) {
    if (std::string words = condition_words(condition); !words.empty()) said.emplace_back(name, words);
  };
  add("the goal:", result.goal);
  add("the lock:", result.lock);
  add("at rest: ", result.rest);
  return said;
}

Page figures_page(const CompareResult& result, const CompareWishes& wishes, const Terminal& terminal) {
  Page page;
  page.push_back({{"Figures", Style::strong}, {", each proved the best there is unless it says otherwise"}});
  for (const auto& [name, words] : figure_conditions(result)) {
    add_paragraph(page, fmt::format("  {} ", name), words, terminal, Style::faint);
  }
  for (std::size_t index = 0; index < result.comparison->figures[side_a].size(); ++index) {
    add_figure(page, result, index, wishes, terminal);
  }
  return page;
}

}  // namespace detent::cli
