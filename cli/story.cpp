// Short plain sentences in order of time. Only changes are told; the position of everything comes first.
#include "cli/story.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/moments.hpp"
#include "cli/relevance.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Signal;
using dsl::SignalRole;
using dsl::SortKind;
using solver::Trace;

constexpr std::size_t most_answers = 8;
constexpr std::size_t first_moments = 10;
constexpr std::size_t last_moments = 30;
constexpr Value shortest_quiet = 2;  // ticks: less is not worth a line
constexpr std::size_t narrow = 60;   // a page that has no room for a column of times

/// What is told of one run.
struct Telling {
  const Model& model;
  const Trace& trace;
  std::vector<std::uint32_t> signals = {};  ///< in the order of telling
  bool some_hands_at_rest = false;          ///< that are not told for this reason
  bool some_hands_do_not_matter = false;
  bool edges_matter = false;  ///< whether it matters if what is true at power-up counts as an edge
};

void join(std::vector<bool>& all, const std::vector<bool>& more) {
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = all[i] || more[i];
}

/// Hands that only an assumption speaks of belong to the run too: it might not be a run without them.
std::vector<bool> hands_that_matter(const Model& model, dsl::NodeId about) {
  std::vector<bool> inside = cone(model.circuit, about);
  for (const dsl::Constraint& constraint : model.constraints)
    join(inside, cone(model.circuit, constraint.node));
  return inside;
}

/// A hand is told if it led to the end, if it moves, or if it stands where nobody would expect it. That a
/// button is not touched in the whole run goes without saying.
bool is_hand_told(Telling& telling, std::uint32_t index, bool relevant, bool matters) {
  const Signal& signal = telling.model.signals[index];
  const bool rests =
      is_at_rest(signal, telling.trace.at(0, signal.node)) && !changes(telling.model, telling.trace, index);
  const bool untouched = rests && signal.element == "button";
  if ((relevant && !untouched) || (matters && !rests)) return true;
  (matters ? telling.some_hands_at_rest : telling.some_hands_do_not_matter) = true;
  return false;
}

Telling choose(const Model& model, const Trace& trace, const StoryWishes& wishes) {
  const std::vector<bool> matters = hands_that_matter(model, wishes.about);
  const std::vector<bool> relevant = relevant_signals(model, trace, wishes.about, wishes.names);
  Telling telling{model, trace};
  for (std::uint32_t i = 0; i < model.signals.size(); ++i) {
    const Signal& signal = model.signals[i];
    if (is_power_up_choice(model, i)) telling.edges_matter = relevant[i];
    if (is_power_up_choice(model, i) || told_signal(model, trace, i) != i) continue;
    const bool named = std::find(wishes.names.begin(), wishes.names.end(), i) != wishes.names.end();
    const bool told =
        wishes.all_signals || (signal.role == SignalRole::hand
                                   ? named || is_hand_told(telling, i, relevant[i], matters[signal.node])
                                   : relevant[i]);
    if (told) telling.signals.push_back(i);
  }
  if (!wishes.all_signals) drop_inner_workings(model, trace, wishes.names, telling.signals);
  sort_for_telling(model, telling.signals);
  return telling;
}

std::string when_words(const Model& model, Value tick) {
  return fmt::format("{}, tick {}", seconds_words(tick, model.tick_us), tick);
}

std::string sentence(std::string words) {
  const bool small = !words.empty() && words.front() >= 'a' && words.front() <= 'z';
  if (small) words.front() = static_cast<char>(words.front() - 'a' + 'A');
  return words + '.';
}

// ---- Power-up ----

/// "guard is at safe, thrust at -100 % and stop released, and the radio link is there": the hands' verb is
/// said once, and a link is no hand.
std::string position_words(const Telling& telling) {
  std::vector<std::string> hands;
  std::vector<std::string> parts;
  for (const std::uint32_t index : telling.signals) {
    const Signal& signal = telling.model.signals[index];
    if (signal.role != SignalRole::hand) continue;
    const Value value = telling.trace.at(0, signal.node);
    if (is_link(signal)) {
      parts.push_back(state_words(signal, value));
    } else {
      hands.push_back(hand_words(signal, value, hands.empty()));
    }
  }
  const std::string links = list_words(parts);
  if (hands.empty()) return links;
  return links.empty() ? list_words(hands) : fmt::format("{}, and {}", list_words(hands), links);
}

/// Of the hands that are not told.
std::string others_words(const Telling& telling, const std::string& subject) {
  if (telling.some_hands_at_rest) return fmt::format(" {} is at rest.", subject);
  return telling.some_hands_do_not_matter ? fmt::format(" {} may stand as it likes.", subject) : "";
}

/// At power-up a condition is worth telling if it is on.
bool is_worth_telling(const Signal& signal, Value value) {
  return signal.role != SignalRole::hand && (signal.sort.kind != SortKind::condition || value != 0);
}

std::string first_answer(const Telling& telling) {
  std::vector<std::string> items;
  for (const std::uint32_t index : telling.signals) {
    const Signal& signal = telling.model.signals[index];
    const Value value = telling.trace.at(0, signal.node);
    if (is_worth_telling(signal, value)) items.push_back(state_words(signal, value));
  }
  return items.empty() ? "" : fmt::format("The design: {}.", list_words(items, most_answers));
}

std::string edge_words(const Telling& telling) {
  const Signal& choice = telling.model.signals[*telling.model.power_up_choice];
  const bool counted = telling.trace.at(0, choice.node) != 0;
  return fmt::format("In this run, what is already true at power-up {} as an edge.",
                     counted ? "counts" : "does not count");
}

void tell_power_up(const Telling& telling, std::vector<StoryLine>& lines) {
  const std::string positions = position_words(telling);
  lines.push_back({when_words(telling.model, 0),
                   positions.empty() ? "Power-up." + others_words(telling, "Everything")
                                     : fmt::format("At power-up: {}.{}", positions,
                                                   others_words(telling, "Everything else"))});
  if (telling.edges_matter) lines.push_back({"", edge_words(telling)});
  if (std::string answer = first_answer(telling); !answer.empty()) lines.push_back({"", std::move(answer)});
}

// ---- One moment ----

std::string by_hand_words(const Model& model, const Moment& moment) {
  std::vector<std::string> moves;
  for (const Change& change : moment.moves) {
    const Signal& signal = model.signals[change.signal];
    if (!moves_by_itself(signal)) moves.push_back(move_words(signal, change.to));
  }
  return moves.empty() ? "" : sentence("you " + list_words(moves));
}

std::string by_fate_words(const Model& model, const Moment& moment) {
  std::vector<std::string> links;
  for (const Change& change : moment.moves) {
    const Signal& signal = model.signals[change.signal];
    if (moves_by_itself(signal)) links.push_back(fate_words(signal, change.to));
  }
  return links.empty() ? "" : sentence(list_words(links));
}

std::string slowly_words(const Model& model, const Moment& moment) {
  if (moment.until == moment.tick) return "";
  return fmt::format("A step every tick, until {}.", when_words(model, moment.until));
}

std::string answer_words(const Model& model, const Moment& moment) {
  std::vector<std::string> items;
  for (const Change& change : moment.answers) {
    items.push_back(change_words(model.signals[change.signal], change.to));
  }
  return items.empty() ? "" : fmt::format("The design: {}.", list_words(items, most_answers));
}

void tell_quiet(const Telling& telling, Value after, Value before, std::vector<StoryLine>& lines) {
  const Value quiet = before - after - 1;
  if (quiet < shortest_quiet) return;
  const std::string length = seconds_words(quiet, telling.model.tick_us);
  lines.push_back({"", fmt::format("Nothing is touched for {}.", length), after});
}

// ---- The whole ----

Value tell_moments(const Telling& telling, const std::vector<Moment>& moments,
                   std::vector<StoryLine>& lines) {
  const bool all = moments.size() <= first_moments + last_moments;
  Value told_until = 0;
  for (std::size_t i = 0; i < moments.size(); ++i) {
    const bool left_out = !all && i >= first_moments && i + last_moments < moments.size();
    if (left_out && i == first_moments) {
      const std::size_t count = moments.size() - first_moments - last_moments;
      lines.push_back(
          {"",
           fmt::format("[{} left out here; --format json has the whole run.]", count_words(count, "moment")),
           moments[i].tick});
    }
    if (!left_out) {
      const bool follows = all || i != moments.size() - last_moments;
      if (follows) tell_quiet(telling, told_until, moments[i].tick, lines);
      tell_moment(telling.model, moments[i], lines);
    }
    told_until = moments[i].until;
  }
  return told_until;
}

void tell_end(const Telling& telling, Value told_until, const std::string& ending,
              std::vector<StoryLine>& lines) {
  const Value last = static_cast<Value>(telling.trace.ticks()) - 1;
  tell_quiet(telling, told_until, last, lines);
  lines.push_back({told_until < last ? when_words(telling.model, last) : "", ending, last});
}

}  // namespace

void tell_moment(const Model& model, const Moment& moment, std::vector<StoryLine>& lines) {
  std::string when = when_words(model, moment.tick);
  for (std::string& text : std::vector{by_fate_words(model, moment), by_hand_words(model, moment),
                                       slowly_words(model, moment), answer_words(model, moment)}) {
    if (text.empty()) continue;
    lines.push_back({std::move(when), std::move(text), moment.tick});
    when.clear();
  }
}

std::vector<StoryLine> tell(const Model& model, const Trace& trace, const StoryWishes& wishes) {
  std::vector<StoryLine> lines;
  if (trace.ticks() == 0) return lines;
  const Telling telling = choose(model, trace, wishes);
  tell_power_up(telling, lines);
  const Value told_until = tell_moments(telling, find_moments(model, trace, telling.signals), lines);
  tell_end(telling, told_until, wishes.ending, lines);
  return lines;
}

Page story_page(const std::vector<StoryLine>& lines, const std::string& indent, const Terminal& terminal) {
  Page page;
  if (terminal.width < narrow) {
    for (const StoryLine& line : lines) {
      if (!line.when.empty()) page.push_back({{indent + line.when}});
      add_paragraph(page, indent + "  ", line.text, terminal);
    }
    return page;
  }
  std::size_t widest = 0;
  for (const StoryLine& line : lines) widest = std::max(widest, columns(line.when));
  for (const StoryLine& line : lines) {
    const std::size_t gap = widest - columns(line.when) + 2;
    add_paragraph(page, fmt::format("{}{}{:{}}", indent, line.when, "", gap), line.text, terminal);
  }
  return page;
}

}  // namespace detent::cli
