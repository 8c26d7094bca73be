// Every form has its row: what it may be asked for with, and who writes it.
#include "cli/cmd_export.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>
#include <variant>
#include <vector>

#include "cli/claim_choice.hpp"
#include "cli/cmd_check.hpp"
#include "cli/errors_text.hpp"
#include "cli/export/check_format.hpp"
#include "cli/export/dot.hpp"
#include "cli/export/run_choice.hpp"
#include "cli/export/solver_question.hpp"
#include "cli/output_file.hpp"
#include "cli/reader.hpp"
#include "cli/settings.hpp"
#include "cli/vcd.hpp"
#include "cli/verdict_text.hpp"
#include "dsl/front.hpp"

namespace detent::cli {
namespace {

using Problem = std::optional<CommandResult>;

struct Task {
  const ExportOptions& options;
  Settings settings;
  OutputFile output;

  [[nodiscard]] CommandResult deliver(const std::string& text, Status status,
                                      const std::string& first) const {
    return deliver_output(
        output, text, status,
        fmt::format("{}{}It is in {}.\n", first, first.empty() ? "" : "\n", output.path.value_or("")));
  }
};

// ---- What goes with what ----

struct Form {
  std::string name;
  bool run = false, within = false, claim = true;
};

const std::vector<Form>& forms() {
  static const std::vector<Form> all{{"json", true, true}, {"sarif", false, true}, {"junit", false, true},
                                     {"vcd", true, true},  {"smt2", false, true},  {"dot", false, false}};
  return all;
}

CommandResult unfit(const std::string& option, const std::string& form, const std::string& mend) {
  return usage_error(fmt::format("{} has nothing to do with {}", option, form), mend);
}

Problem misfit(const ExportOptions& options, const Form& form) {
  const CheckOptions& check = options.check;
  if (check.run && !form.run) return unfit("--run", form.name, "leave it out, or ask for json or vcd");
  if (check.run && form.name == "vcd" && !check.claims.empty()) {
    return usage_error("--run and --claim are two ways to name one run", "leave out one of them");
  }
  if (check.within && !form.within) return unfit("--within", form.name, "leave it out");
  if (check.within && check.run) return unfit("--within", "--run", "leave out one of them");
  if (options.circuit && form.name != "dot") return unfit("--circuit", form.name, "leave it out");
  if (!check.claims.empty() && form.name == "dot" && !options.circuit) {
    return usage_error("--claim shows what part of the circuit a claim depends on, and --circuit is missing",
                       "write --as dot --circuit --claim NAME, or leave out --claim");
  }
  return std::nullopt;
}

// ---- Forms ----

CommandResult export_check(const Task& task, dsl::Compiled design) {
  auto done = checked(task.options.check, std::move(design), task.settings);
  if (auto* answer = std::get_if<CommandResult>(&done)) {
    if (answer->output.empty()) return std::move(*answer);
    return task.deliver(answer->output, answer->status, "");  // what --run says, as JSON
  }
  const CheckResult& result = std::get<CheckResult>(done);
  const std::string text = formatted_check(result, task.settings.format);
  if (!task.output.is_file()) return {.output = text, .status = status_of(result)};
  if (Problem nothing = nothing_to_report(result, task.settings)) {
    CommandResult told = task.deliver(text, status_of(result), "");
    told.errors = nothing->errors + told.errors;
    return told;
  }
  return task.deliver(text, status_of(result), summary_words(*result.compiled.model, *result.report));
}

CommandResult export_run(const Task& task, dsl::Compiled design) {
  if (task.options.check.run) {
    auto run = run_of_file(task.options.check, design);
    if (auto* problem = std::get_if<CommandResult>(&run)) return std::move(*problem);
    return task.deliver(vcd_text(*design.model, std::get<solver::Run>(run)), Status::all_hold, "");
  }
  auto done = checked(task.options.check, std::move(design), task.settings);
  if (auto* problem = std::get_if<CommandResult>(&done)) return std::move(*problem);
  const CheckResult& result = std::get<CheckResult>(done);
  if (Problem nothing = nothing_to_report(result, task.settings)) return std::move(*nothing);
  auto choice = run_to_draw(result);
  if (auto* problem = std::get_if<CommandResult>(&choice)) return std::move(*problem);
  const dsl::Model& model = *result.compiled.model;
  const solver::Verdict& verdict = *std::get<const solver::Verdict*>(choice);
  return task.deliver(
      vcd_text(model, *verdict.run), status_of(result),
      fmt::format("{}: {}", model.claims[verdict.claim].name, verdict_words(model, verdict).text));
}

CommandResult export_question(const Task& task, dsl::Compiled design) {
  auto asked = question_of(task.options.check, std::move(design), task.settings);
  if (auto* problem = std::get_if<CommandResult>(&asked)) return std::move(*problem);
  const SolverQuestion& question = std::get<SolverQuestion>(asked);
  return task.deliver(question.text, question.status, question.told);
}

CommandResult export_picture(const Task& task, const dsl::Compiled& design) {
  const std::vector<std::string>& names = task.options.check.claims;
  if (names.size() > 1) {
    return usage_error("--claim: the circuit of one claim is drawn at a time", "name one claim");
  }
  std::optional<std::uint32_t> claim;
  if (!names.empty()) {
    auto choice = choose_claim("--claim", names.front(), *design.model);
    if (auto* problem = std::get_if<CommandResult>(&choice)) return std::move(*problem);
    claim = std::get<std::uint32_t>(choice);
  }
  return task.deliver(task.options.circuit ? circuit_dot(design, claim) : elements_dot(design),
                      Status::all_hold, "");
}

CommandResult export_design(const Task& task, dsl::Compiled design) {
  if (is_check_format(task.options.as)) return export_check(task, std::move(design));
  if (!design.model) {
    const Terminal errors = choose_terminal(task.settings.terminal, look_around(2));
    return {.errors = render(errors_page(design, errors), errors), .status = Status::input_wrong};
  }
  if (task.options.as == "vcd") return export_run(task, std::move(design));
  if (task.options.as == "smt2") return export_question(task, std::move(design));
  return export_picture(task, design);
}

OutputFile output_of(const ExportOptions& options, const dsl::Compiled& design) {
  OutputFile output{.path = options.output, .what = "it", .example = "boat." + options.as, .keep = {}};
  keep_designs(output, design.sources);
  if (options.check.run) output.keep.emplace_back("the run", *options.check.run);
  return output;
}

}  // namespace

CommandResult export_as(const ExportOptions& options) {
  const auto form =
      std::find_if(forms().begin(), forms().end(), [&](const Form& one) { return one.name == options.as; });
  if (form == forms().end()) {
    std::vector<std::string> known;
    for (const Form& one : forms()) known.push_back(one.name);
    return bad_word("--as", options.as, known);
  }
  if (Problem problem = misfit(options, *form)) return std::move(*problem);
  auto read = read_settings(options.check);
  if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
  Task task{options, std::get<Settings>(read), {}};
  task.settings.format = options.as;
  task.settings.json = options.as == "json";
  dsl::Compiled design = dsl::compile(source_name(options.check.file), file_reader(options.check.file));
  task.output = output_of(options, design);
  if (Problem problem = try_output_file(task.output)) return std::move(*problem);
  return export_design(task, std::move(design));
}

}  // namespace detent::cli
