#include "cli/step_talk.hpp"

#include <fmt/format.h>

#include <optional>

#include "cli/file_writer.hpp"
#include "cli/interrupt.hpp"
#include "cli/log_text.hpp"
#include "cli/run_check.hpp"
#include "cli/run_json.hpp"
#include "cli/run_judge.hpp"
#include "cli/run_text.hpp"
#include "cli/step_text.hpp"
#include "cli/step_wait.hpp"
#include "cli/verdict_text.hpp"
#include "cli/words.hpp"
#include "solver/forever.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using Kind = Command::Kind;

/// From here on Ctrl-C is listened to: what is shorter is over before it could be pressed.
constexpr Value long_time = 200'000;

/// As a shell takes it for this one word.
std::string shell_word(const std::string& text) {
  constexpr const char* plain = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-./+,:@%=";
  if (!text.empty() && text.find_first_not_of(plain) == std::string::npos) return text;
  std::string word = "'";
  for (const char letter : text) word += letter == '\'' ? std::string("'\\''") : std::string(1, letter);
  return word + "'";
}

}  // namespace

Talk::Talk(const dsl::Compiled& compiled, const Settings& settings, const Terminal& terminal)
    : compiled_(compiled), settings_(settings), terminal_(terminal), session_(compiled) {}

std::string Talk::shown(const Page& page) const {
  return render(page, terminal_);
}

std::string Talk::standing() const {
  return shown(standing_page(session_, {}, false, terminal_));
}

std::string Talk::prompt() const {
  return session_.powered() ? seconds_words(session_.tick(), session_.model().tick_us) + "> " : "off> ";
}

std::variant<std::string, Refusal> Talk::answer(std::string_view text) {
  Reading<Command> command = read_command(session_.model(), text);
  if (!command.value) return Refusal{std::move(command.problem), std::move(command.mend)};
  return act(*command.value);
}

Talk::Answer Talk::act(const Command& command) {
  switch (command.kind) {
    case Kind::nothing:
      return "";
    case Kind::moves:
      return move(command);
    case Kind::pass:
      return pass(command);
    case Kind::until:
      return wait(command);
    case Kind::power_on:
      if (session_.powered()) return Refusal{"power is on already", "restart begins once more"};
      return tell(session_.go({}, 1));
    case Kind::next:
      return play_on(session_.to_next_movement());
    case Kind::rest:
      return play_on(session_.to_end_of_run());
    case Kind::violation:
      return violation(command);
    case Kind::load:
      return load(command);
    case Kind::save:
      return save(command);
    case Kind::show:
      return shown(standing_page(session_, command.signals, command.all, terminal_));
    case Kind::claims:
      return shown(session_claims_page(compiled_, session_, terminal_));
    case Kind::diagram:
      if (!session_.powered()) return Refusal{"nothing was done yet", "power on, or let time pass"};
      return shown(session_diagram(session_, command.signals, terminal_));
    case Kind::undo:
    case Kind::redo:
      return step_back(command);
    case Kind::restart:
      session_.restart();
      return standing();
    case Kind::help:
      return printable_lines(step_commands_text(), terminal_.unicode);
    case Kind::quit:
      over_ = true;
      return "";
  }
  return "";
}

Talk::Answer Talk::tell(std::variant<Passage, Refusal> outcome) {
  if (auto* refusal = std::get_if<Refusal>(&outcome)) return std::move(*refusal);
  return shown(passage_page(compiled_, session_, std::get<Passage>(outcome), terminal_));
}

Talk::Answer Talk::move(const Command& command) {
  if (session_.powered()) return tell(session_.go(command.moves, 1));
  session_.place(command.moves);
  return standing();
}

Talk::Answer Talk::pass(const Command& command) {
  const Value ticks = command.count + (session_.powered() ? 0 : 1);
  if (ticks == 0) return "";
  std::optional<Interrupt> interrupt;
  if (ticks > long_time) interrupt.emplace();
  return tell(session_.go({}, ticks, {}, interrupt ? interrupt->flag() : nullptr));
}

Talk::Answer Talk::wait(const Command& command) {
  if (const std::string words = already_words(session_.model(), command.wait, session_); !words.empty()) {
    return shown({{{"  " + words + "."}}});
  }
  const Interrupt interrupt;
  // Before power-up there is tick 0 to come first, which takes no time.
  const Value limit = command.limit ? *command.limit + (session_.powered() ? 0 : 1) : no_limit;
  auto outcome = session_.go({}, limit, stop_for(session_.model(), command.wait), interrupt.flag());
  const auto* passage = std::get_if<Passage>(&outcome);
  const bool missed = passage != nullptr && !passage->reached && !passage->halted;
  Answer answer = tell(std::move(outcome));
  if (missed) std::get<std::string>(answer) += shown({{{"  It has not come in that time.", Style::unsure}}});
  return answer;
}

Talk::Answer Talk::play_on(Value ticks) {
  if (ticks <= 0)
    return Refusal{"no run is loaded that could go on", "violation CLAIM or load NAME.run brings one"};
  std::optional<Interrupt> interrupt;
  if (ticks > long_time) interrupt.emplace();
  return tell(session_.go({}, ticks, {}, interrupt ? interrupt->flag() : nullptr));
}

Talk::Answer Talk::violation(const Command& command) {
  const Model& model = session_.model();
  const Interrupt interrupt;
  const solver::Report report =
      solver::check_forever(model, {.claims = {command.claim},
                                    .timeout = settings_.timeout.value_or(usual_patience),
                                    .memory_mib = settings_.memory_mib,
                                    .cancel = interrupt.flag(),
                                    .jobs = settings_.jobs,
                                    .side_findings = false});
  if (report.no_run_of)
    return Refusal{"assumptions contradict each other, so there is no run at all",
                   "detent check tells which"};
  const solver::Verdict& verdict = report.verdicts.front();
  const Span words = verdict_words(model, verdict);
  Page page{{words, {"  "}, {model.claims[command.claim].name, Style::strong}}};
  if (!verdict.run || verdict.run->ticks() == 0) {
    const std::string remark = remark_words(model, verdict);
    add_paragraph(page, "  ",
                  remark.empty() ? "There is no run to load; everything stays as it was." : remark,
                  terminal_);
    return shown(page);
  }
  session_.load(by_changes(*verdict.run));
  add_paragraph(page, "  ",
                "The run is loaded, and you stand before its first step: next plays it on, rest to its end.",
                terminal_);
  return shown(page) + standing();
}

Talk::Answer Talk::load(const Command& command) {
  auto file = read_run_file("load", command.file);
  if (std::holds_alternative<CommandResult>(file)) {
    return Refusal{fmt::format("'{}' can't be read", command.file),
                   "mind the spelling; the path begins in the folder where detent was started"};
  }
  Reading<HandRun> run =
      read_run(session_.model(), std::get<std::string>(file), command.file.ends_with(".json"));
  if (!run.value) return Refusal{fmt::format("{}: {}", command.file, run.problem), run.mend};
  const std::string words =
      fmt::format("{}, {}, is loaded, and you stand before its first step.", command.file,
                  ticks_words(run.value->ticks, session_.model().tick_us)) +
      (lacks_tick(std::get<std::string>(file)) ? std::string(" ") + no_tick_words : "");
  session_.load(std::move(*run.value));
  Page page;
  add_paragraph(page, "  ", words, terminal_);
  return shown(page) + standing();
}

Talk::Answer Talk::save(const Command& command) {
  if (!session_.powered())
    return Refusal{"nothing was done yet, so there is nothing to save", "power on, or let time pass"};
  const HandRun run = session_.run();
  const bool log = command.file.ends_with(".csv");
  const std::string text = log ? log_text(session_.model(), run) : run_text(session_.model(), run);
  switch (write_file(command.file, text, command.over)) {
    case Written::yes:
      break;
    case Written::is_there:
      return Refusal{fmt::format("'{}' is there already", command.file),
                     fmt::format("take another name, or write: save over {}", command.file)};
    case Written::no:
      return Refusal{fmt::format("'{}' can't be written", command.file),
                     "name a file in a folder that can be written to, on a disk with room"};
  }
  const std::string& file = compiled_.sources.name(0);
  const std::string how = log ? fmt::format("detent replay {}", shell_word(file))
                              : fmt::format("detent check {} --run", shell_word(file));
  Page page;
  add_paragraph(page, "  ",
                fmt::format("Saved: {}, {}. To see it again: {} {}", command.file,
                            ticks_words(run.ticks, session_.model().tick_us), how, shell_word(command.file)),
                terminal_);
  return shown(page);
}

Talk::Answer Talk::step_back(const Command& command) {
  const bool back = command.kind == Kind::undo;
  Value done = 0;
  while (done < command.count && (back ? session_.undo() : session_.redo())) ++done;
  if (done == 0)
    return back ? Refusal{"nothing was done that could be undone", "move something first"}
                : Refusal{"nothing was undone that could be done again", "undo comes first"};
  return standing();
}

}  // namespace detent::cli
