// The loop: a line, its commands one after another, each with its answer. A person who errs is told and goes
// on; a script that errs ends there, because what follows would no longer mean what it was written for.
#include "cli/cmd_step.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>

#include "cli/claim_choice.hpp"
#include "cli/decimal.hpp"
#include "cli/errors_text.hpp"
#include "cli/heading.hpp"
#include "cli/line_editor.hpp"
#include "cli/output.hpp"
#include "cli/reader.hpp"
#include "cli/step_completion.hpp"
#include "cli/step_talk.hpp"
#include "dsl/front.hpp"

namespace detent::cli {
namespace {

/// Parts a line at its semicolons; a comment goes to its end.
std::vector<std::string_view> commands_of(std::string_view line) {
  line = line.substr(0, line.find("//"));
  std::vector<std::string_view> commands;
  while (true) {
    const std::size_t end = std::min(line.find(';'), line.size());
    commands.push_back(trimmed(line.substr(0, end)));
    if (end == line.size()) return commands;
    line.remove_prefix(end + 1);
  }
}

std::string refusal_text(const Refusal& refusal, const Terminal& terminal) {
  Page page;
  add_paragraph(page, "  not done: ", refusal.problem, terminal, Style::unsure);
  add_paragraph(page, "      mend: ", refusal.mend, terminal);
  return render(page, terminal);
}

class Loop {
 public:
  Loop(Talk& talk, LineSource& lines, const Terminal& terminal)
      : talk_(talk), lines_(lines), terminal_(terminal) {}

  CommandResult run() {
    std::string line;
    while (!talk_.is_over() && lines_.next(talk_.prompt(), line)) {
      ++number_;
      for (const std::string_view command : commands_of(line)) {
        if (talk_.is_over() || command.empty()) continue;
        if (!lines_.is_person() && !say(printable("> " + std::string(command), terminal_.unicode) + "\n"))
          return lost();
        auto answer = talk_.answer(command);
        if (auto* refusal = std::get_if<Refusal>(&answer)) {
          if (!lines_.is_person())
            return usage_error(fmt::format("line {}: {}", number_, refusal->problem), refusal->mend);
          if (!say(refusal_text(*refusal, terminal_))) return lost();
          break;
        }
        if (!say(std::get<std::string>(answer))) return lost();
      }
    }
    if (const auto& trouble = lines_.trouble(); trouble && !talk_.is_over()) {
      return usage_error(trouble->in_line ? fmt::format("line {}: {}", number_ + 1, trouble->what)
                                          : "standard input: " + trouble->what,
                         trouble->mend);
    }
    return {};
  }

 private:
  bool say(std::string_view text) {
    error_ = try_print(text);
    return error_ == 0;
  }
  [[nodiscard]] CommandResult lost() const { return unprinted(error_, "step"); }

  Talk& talk_;
  LineSource& lines_;
  const Terminal& terminal_;
  std::size_t number_ = 0;
  int error_ = 0;
};

Page greeting(const dsl::Compiled& compiled, bool person, const Terminal& terminal) {
  Page page;
  page.push_back(heading_of(compiled));
  if (person) {
    add_paragraph(page, "",
                  "Power is off: put the inputs where they are to stand (thrust 40 %), then let time pass "
                  "(power on, 500 ms). "
                  "help lists all commands, Tab completes names.",
                  terminal);
  }
  if (compiled.model->power_up_choice) {
    add_paragraph(
        page, "",
        "The design leaves open whether edges at power-up count. Here they do, unless you say otherwise "
        "before power-up: edges at power-up ignored.",
        terminal);
  }
  add_paragraph(page, "", "This plays the model, not the wiring: blade or propeller off on the bench.",
                terminal, Style::faint);
  return page;
}

bool is_terminal() {
  const Surroundings around = look_around(STDOUT_FILENO);
  return around.is_terminal && isatty(STDIN_FILENO) == 1 && around.variable("TERM") != "dumb";
}

CommandResult play(const StepOptions& options, const Settings& settings, const dsl::Compiled& compiled) {
  const Terminal terminal = choose_terminal(settings.terminal, look_around(STDOUT_FILENO));
  const bool person = is_terminal();
  Talk talk(compiled, settings, terminal);
  if (const int error = try_print(render(greeting(compiled, person, terminal), terminal)); error != 0)
    return unprinted(error, "step");
  if (options.claim) {
    auto answer = talk.answer("violation " + *options.claim);
    if (const auto* refusal = std::get_if<Refusal>(&answer))
      return usage_error(refusal->problem, refusal->mend);
    if (const int error = try_print(std::get<std::string>(answer)); error != 0)
      return unprinted(error, "step");
  }
  const Completer completer = [&](std::string_view typed) {
    Completion found = complete(*compiled.model, typed);
    return Completions{std::move(found.part), std::move(found.words)};
  };
  const std::unique_ptr<LineSource> lines = person ? line_editor(completer) : plain_lines();
  return Loop(talk, *lines, terminal).run();
}

}  // namespace

CommandResult step(const StepOptions& options) {
  auto read = read_settings(options);
  if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
  const Settings& settings = std::get<Settings>(read);
  if (options.file == "-") {
    return usage_error("step takes its commands from standard input, so the design can't come from there",
                       "name the file of the design");
  }
  const dsl::Compiled compiled = dsl::compile(source_name(options.file), file_reader(options.file));
  if (!compiled.model) {
    const Terminal errors = choose_terminal(settings.terminal, look_around(STDERR_FILENO));
    return {.errors = render(errors_page(compiled, errors), errors), .status = Status::input_wrong};
  }
  if (options.claim) {
    auto choice = choose_claim("--claim", *options.claim, *compiled.model);
    if (auto* problem = std::get_if<CommandResult>(&choice)) return std::move(*problem);
  }
  return play(options, settings, compiled);
}

}  // namespace detent::cli
