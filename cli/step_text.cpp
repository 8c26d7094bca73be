#include "cli/step_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/moments.hpp"
#include "cli/relevance.hpp"
#include "cli/run_judge.hpp"
#include "cli/story.hpp"
#include "cli/timing.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Signal;
using dsl::SignalRole;

constexpr const char* indent = "  ";
constexpr std::size_t most_moments = 60;

/// A value that arrives just as the hand has it goes without saying.
bool is_echo(const Model& model, std::uint32_t index, const std::vector<Value>& values) {
  const std::optional<std::uint32_t> hand = hand_behind(model, index);
  return hand && values[model.signals[*hand].node] == values[model.signals[index].node];
}

void drop_echoes(const Model& model, const solver::Trace& trace, Moment& moment) {
  const auto echoes = [&](const Change& change) {
    const std::optional<std::uint32_t> hand = hand_behind(model, change.signal);
    return hand && trace.at(static_cast<std::size_t>(moment.until), model.signals[*hand].node) == change.to &&
           std::any_of(moment.moves.begin(), moment.moves.end(),
                       [&](const Change& move) { return move.signal == *hand; });
  };
  moment.answers.erase(std::remove_if(moment.answers.begin(), moment.answers.end(), echoes),
                       moment.answers.end());
}

std::vector<std::uint32_t> all_signals(const Model& model) {
  std::vector<std::uint32_t> signals;
  for (std::uint32_t index = 0; index < model.signals.size(); ++index) {
    if (!is_power_up_choice(model, index)) signals.push_back(index);
  }
  sort_for_telling(model, signals);
  return signals;
}

std::vector<std::string> states_of(const Session& session, SignalRole role, bool only_telling) {
  const Model& model = session.model();
  std::vector<std::string> words;
  for (const std::uint32_t index : all_signals(model)) {
    const Signal& signal = model.signals[index];
    if (signal.role != role) continue;
    const Value value =
        role == SignalRole::hand ? session.inputs()[signal.input] : session.values()[signal.node];
    const bool off = signal.sort.kind == dsl::SortKind::condition && value == 0;
    if (only_telling && role == SignalRole::element && (off || is_echo(model, index, session.values())))
      continue;
    words.push_back(role == SignalRole::hand
                        ? hand_words(signal, value, false)
                        : fmt::format("{} {}", signal.name, dsl::to_text(value, signal.sort)));
  }
  return words;
}

void add_states(Page& page, const std::string& what, const std::vector<std::string>& words,
                const Terminal& terminal) {
  if (!words.empty()) add_paragraph(page, what, list_words(words), terminal);
}

std::string when_words(const Session& session, Value tick) {
  return fmt::format("{}, tick {}", seconds_words(tick, session.model().tick_us), tick);
}

void add_power_up(const Session& session, std::vector<StoryLine>& lines) {
  const Model& model = session.model();
  std::vector<std::string> on;
  for (const std::uint32_t index : all_signals(model)) {
    const Signal& signal = model.signals[index];
    const Value value = session.trace().at(0, signal.node);
    const bool off = signal.sort.kind == dsl::SortKind::condition && value == 0;
    if (signal.role == SignalRole::hand || off ||
        is_echo(model, index, session.trace().moments().front().values))
      continue;
    on.push_back(state_words(signal, value));
  }
  lines.push_back({when_words(session, 0), "Power comes on."});
  if (!on.empty()) lines.push_back({"", fmt::format("The design: {}.", list_words(on))});
}

void add_breaking(Page& page, const dsl::Compiled& compiled, const Breaking& breaking,
                  const Terminal& terminal) {
  const dsl::Claim& claim = compiled.model->claims[breaking.claim];
  const std::string when = seconds_words(breaking.tick, compiled.model->tick_us);
  page.push_back({{claim.possible ? "DONE" : "BROKEN", claim.possible ? Style::good : Style::bad},
                  {fmt::format(" at {}  ", when)},
                  {claim.name, Style::strong},
                  {"  " + line_words(compiled.sources, claim.place), Style::faint}});
  if (!claim.doc.empty()) add_paragraph(page, "    ", fmt::format("\"{}\"", claim.doc), terminal);
  add_paragraph(page, "    ", claim.text, terminal);
  add_paragraph(page, "    ", breaking.words, terminal);
}

std::string on_their_way_words(const Session& session) {
  std::vector<std::string> words;
  for (const Move& move : session.on_their_way()) {
    words.push_back(fmt::format("{} is on its way to {}", session.model().signals[move.signal].name,
                                dsl::to_text(move.value, session.model().signals[move.signal].sort)));
  }
  return words.empty() ? ""
                       : list_words(words) + ", as fast as the design lets it; it moves while time passes.";
}

}  // namespace

Page passage_page(const dsl::Compiled& compiled, const Session& session, const Passage& passage,
                  const Terminal& terminal) {
  const Model& model = session.model();
  Page page;
  if (passage.left_run)
    add_paragraph(page, indent, "The loaded run is left here; from now on your hands count.", terminal);
  std::vector<StoryLine> lines;
  if (passage.from == 0 && passage.to >= 0) add_power_up(session, lines);
  std::vector<Moment> moments =
      find_moments(model, session.trace(), all_signals(model), static_cast<std::size_t>(passage.from));
  const std::size_t left_out = moments.size() > most_moments ? moments.size() - most_moments : 0;
  if (left_out > 0) {
    moments.erase(moments.begin(), moments.begin() + static_cast<std::ptrdiff_t>(left_out));
    lines.push_back(
        {"", fmt::format("[{} left out here; diagram and save have them]", count_words(left_out, "moment"))});
  }
  for (Moment& moment : moments) {
    drop_echoes(model, session.trace(), moment);
    tell_moment(model, moment, lines);
  }
  if (lines.empty() || (!moments.empty() && moments.back().until < passage.to) ||
      (moments.empty() && passage.to > 0)) {
    lines.push_back(
        {when_words(session, passage.to), lines.empty() ? "Nothing changes." : "Nothing changes any more."});
  }
  add_page(page, story_page(lines, indent, terminal));
  for (const Breaking& breaking : passage.breakings) add_breaking(page, compiled, breaking, terminal);
  if (passage.halted) {
    add_paragraph(
        page, "HALTED ",
        fmt::format(
            "Time stands still: if it went on like this, the next tick would be one that the design takes "
            "for granted never to come: {}. Move something.",
            assumption_words(model, compiled.sources, *passage.halted)),
        terminal, Style::unsure);
  }
  if (const std::string words = on_their_way_words(session); !words.empty())
    add_paragraph(page, indent, words, terminal);
  return page;
}

Page standing_page(const Session& session, const std::vector<std::uint32_t>& signals, bool all,
                   const Terminal& terminal) {
  const Model& model = session.model();
  Page page;
  page.push_back(
      {{session.powered() ? when_words(session, session.tick()) : "Before power-up", Style::strong}});
  if (signals.empty()) {
    if (const auto choice = model.power_up_choice; choice && !session.powered()) {
      const Signal& edges = model.signals[*choice];
      add_paragraph(
          page, "  ",
          fmt::format("{} are {}", edges.name, dsl::to_text(session.inputs()[edges.input], edges.sort)),
          terminal);
    }
    add_states(page, "  hands     ", states_of(session, SignalRole::hand, false), terminal);
    if (!session.powered()) return page;
    add_states(page, all ? "  elements  " : "  on        ", states_of(session, SignalRole::element, !all),
               terminal);
    add_states(page, "  outputs   ", states_of(session, SignalRole::output, false), terminal);
  }
  for (const std::uint32_t index : signals) {
    const Signal& signal = model.signals[index];
    const bool hand = signal.role == SignalRole::hand;
    if (!hand && !session.powered()) {
      add_paragraph(page, indent, signal.name + " is nothing yet: power is off", terminal);
      continue;
    }
    const Value value = hand ? session.inputs()[signal.input] : session.values()[signal.node];
    add_paragraph(page, indent,
                  fmt::format("{}{}", state_words(signal, value),
                              signal.doc.empty() ? "" : fmt::format(" \"{}\"", signal.doc)),
                  terminal);
  }
  if (const std::string words = on_their_way_words(session); !words.empty())
    add_paragraph(page, indent, words, terminal);
  return page;
}

Page session_claims_page(const dsl::Compiled& compiled, const Session& session, const Terminal& terminal) {
  Page page;
  const Model& model = session.model();
  for (std::uint32_t index = 0; index < model.claims.size(); ++index) {
    const dsl::Claim& claim = model.claims[index];
    const std::optional<Value> first = session.claims()[index];
    const std::string when = first ? " at " + seconds_words(*first, model.tick_us) : "";
    const std::string state =
        claim.possible ? (first ? "done" + when : "not done yet") : (first ? "BROKEN" + when : "not broken");
    const Style style = first ? (claim.possible ? Style::good : Style::bad) : Style::plain;
    page.push_back({{fmt::format("  {:<22}", state), style},
                    {claim.name, Style::strong},
                    {"  " + line_words(compiled.sources, claim.place), Style::faint}});
    if (!claim.doc.empty())
      add_paragraph(page, std::string(24, ' '), fmt::format("\"{}\"", claim.doc), terminal);
  }
  if (model.claims.empty()) add_paragraph(page, indent, "The design claims nothing.", terminal);
  add_paragraph(page, indent, "That is about what was done so far; detent check looks at every run.",
                terminal, Style::faint);
  return page;
}

Page session_diagram(const Session& session, std::vector<std::uint32_t> signals, const Terminal& terminal) {
  const Model& model = session.model();
  if (signals.empty()) {
    for (const std::uint32_t index : all_signals(model)) {
      const bool told = told_signal(model, session.trace(), index) == index;
      if (told && changes(model, session.trace(), index)) signals.push_back(index);
    }
  }
  if (signals.empty()) return {{{"  Nothing has changed since power-up, so there is nothing to draw."}}};
  return timing_diagram(
      model, session.trace(),
      {.signals = std::move(signals), .mark = "now", .mark_style = Style::strong, .indent = indent},
      terminal);
}

std::string step_commands_text() {
  return R"(  NAME VALUE, …        move inputs, all at once: thrust 40 %, guard run
                       before power-up they are put there; then it takes a tick
  TIME                 let time pass: 500 ms, 1 tick, 8 h
  power on             the first tick; a TIME does it too
  until …              let time pass until: live changes, live is on,
                       jet >= 20 %, a claim breaks, in_time breaks; with
                       'within 5 s' behind it no longer than that
  show, show all, show NAME, …
                       where things stand
  claims               what the claims say so far
  diagram [NAME, …]    what was done so far
  undo [N], redo [N]   back, and forth again
  violation CLAIM      find a run that breaks the claim, and stand before it
  load NAME.run        the same with a run from a file
  next, rest           play the loaded run: up to and with its next movement,
                       or to its end; a movement of yours leaves it
  save NAME.run        write what was done, for detent check FILE --run NAME.run
  save NAME.csv        the same as a log, for detent replay FILE NAME.csv
                       save over NAME.run: though the file is there already
  restart              power off; positions as they were at power-up
  help, quit           Ctrl-D and Ctrl-C end it too
  ;                    parts commands on a line, // begins a comment
)";
}

}  // namespace detent::cli
