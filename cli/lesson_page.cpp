#include "cli/lesson_page.hpp"

#include <fmt/format.h>

#include "cli/errors_text.hpp"
#include "cli/lesson_lines.hpp"
#include "cli/verdict_text.hpp"
#include "cli/warning_text.hpp"
#include "cli/words.hpp"

namespace detent::cli {

std::string spoken(const std::string& text) {
  std::string words;
  bool quoted = false;
  for (std::size_t index = 0; index < text.size(); ++index) {
    if (text[index] == '`') quoted = !quoted;
    const bool times = index > 0 && text[index - 1] == ' ' && text.substr(index + 1, 1) == " ";
    if (text[index] == '*' && !quoted && !times) continue;  // emphasis has no place in plain text
    words += text[index] == '`' ? '\'' : text[index];
  }
  return words;
}

Page prose_page(const LessonProse& prose, const Terminal& terminal) {
  Page page;
  if (prose.kind != LessonProse::Kind::item) page.push_back({});
  if (prose.kind == LessonProse::Kind::heading) {
    page.push_back({{spoken(prose.text), Style::strong}});
  } else {
    add_paragraph(page, prose.kind == LessonProse::Kind::item ? "  - " : "", spoken(prose.text), terminal);
  }
  return page;
}

Page design_page(const LessonDesign& design) {
  Page page{{}, {{fmt::format("  The design '{}'", design.name), Style::faint}}};
  for (const NumberedLine& line : numbered_lines(design.text))
    page.push_back({{fmt::format("  {:>3}  ", line.number), Style::faint}, {line.text}});
  return page;
}

Page mend_page(const LessonMend& mend) {
  Page page{{}, {{fmt::format("  '{}' is '{}' with", mend.name, mend.from), Style::faint}}};
  for (const LessonChange& change : mend.changes) {
    std::size_t number = change.line;
    for (const std::string& line : change.removed)
      page.push_back({{fmt::format("  {:>3}  ", number++), Style::faint}, {"- " + line, Style::bad}});
    for (const std::string& line : change.added) page.push_back({{"       "}, {"+ " + line, Style::good}});
  }
  return page;
}

Page question_page(const LessonQuestion& question, const Terminal& terminal) {
  Page page{{}};
  add_paragraph(page, "? ", spoken(question.text), terminal, Style::strong);
  for (std::size_t index = 0; index < question.choices.size(); ++index)
    add_paragraph(page, fmt::format("    {}  ", index + 1), spoken(question.choices[index].text), terminal);
  return page;
}

Page verdicts_page(const CheckResult& result, const Terminal& terminal) {
  Page page{{}};
  const dsl::Model& model = *result.compiled.model;
  if (result.report->no_run_of) {
    add_page(page, contradiction_page(result, terminal));
    return page;
  }
  const std::string reach = result.bound
                                ? "every run of up to " + ticks_words(result.bound->ticks, model.tick_us)
                                : std::string("every run, of any length");
  add_paragraph(page, "", fmt::format("The machine has looked at '{}', at {}:", result.file, reach), terminal,
                Style::faint);
  for (const solver::Verdict& verdict : result.report->verdicts) {
    page.push_back({});
    add_page(page, verdict_block(model, result.compiled.sources, verdict, {}, terminal));
  }
  if (const Page warnings = warnings_page(result, terminal); !warnings.empty()) {
    page.push_back({});
    add_page(page, warnings);
  }
  return page;
}

Page task_page(const LessonTask& task, const Terminal& terminal) {
  Page page{{}};
  add_paragraph(
      page, "  ",
      fmt::format("Of your own it needs {} about '{}' that {}, and says something; and no "
                  "assumptions: it is asked whatever the hands do.",
                  count_words(task.claims, "claim"), task.about, task.claims == 1 ? "holds" : "hold"),
      terminal);
  return page;
}

}  // namespace detent::cli
