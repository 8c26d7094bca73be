#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "cli/breakage.hpp"
#include "cli/report/build.hpp"
#include "cli/report_text.hpp"
#include "cli/verdict_text.hpp"
#include "cli/warning_text.hpp"
#include "cli/why_text.hpp"
#include "cli/words.hpp"
#include "solver/interpreter.hpp"

namespace detent::cli::report {
namespace {

using dsl::Model;
using solver::Outcome;
using solver::Verdict;

Mark mark_of(const Verdict& verdict) {
  switch (verdict.outcome) {
    case Outcome::proved:
    case Outcome::holds_up_to:
      return Mark::proved;
    case Outcome::shown:
      return Mark::possible;
    case Outcome::refuted:
      return Mark::refuted;
    case Outcome::undecided:
      break;
  }
  return Mark::undecided;
}

SharedRun shared_run(const Model& model, const Verdict& verdict, const BuildWishes& wishes) {
  const dsl::Claim& claim = model.claims[verdict.claim];
  SharedRun shared{.model = model,
                   .run = *verdict.run,
                   .about = claim.watch,
                   .names = claim.first.mentions,
                   .ending = break_words(model, claim, solver::replay(model.circuit, *verdict.run)),
                   .mark = claim.possible ? "done here" : "broken here",
                   .mark_style = claim.possible ? Style::good : Style::bad,
                   .all_signals = wishes.all_signals};
  if (claim.second) {
    shared.names.insert(shared.names.end(), claim.second->mentions.begin(), claim.second->mentions.end());
  }
  return shared;
}

ClaimView view_claim(const CheckResult& result, const Verdict& verdict, const BuildWishes& wishes) {
  const Model& model = *result.compiled.model;
  const dsl::Claim& claim = model.claims[verdict.claim];
  ClaimView view{.id = fmt::format("claim-{}", verdict.claim),
                 .mark = mark_of(verdict),
                 .verdict = verdict_words(model, verdict),
                 .name = claim.name,
                 .sentence = claim.doc,
                 .text = claim.text,
                 .line = line_words(result.compiled.sources, claim.place),
                 .link = link_to(result.compiled.sources, claim.place),
                 .remark = remark_words(model, verdict)};
  if (verdict.run && verdict.run->ticks() > 0) {
    view.runs.push_back(view_run(shared_run(model, verdict, wishes), fmt::format("run-{}", verdict.claim),
                                 "The run for " + claim.name));
    view.runs.back().in_picture = true;
  } else if (verdict.proof && wishes.cancel != nullptr && *wishes.cancel) {
    view.reasons = {
        {"It rests on",
         "what was not looked into: the making of this page was stopped, or its time was used up."}};
  } else if (verdict.proof) {
    view.reasons = proof_reasons(model, *verdict.proof);
  }
  return view;
}

// ---- The design ----

std::string reads_words(const Picture& picture, std::size_t node) {
  std::vector<std::string> names;
  for (const PictureEdge& edge : picture.edges) {
    if (edge.to != node) continue;
    const PictureNode& from = picture.nodes[edge.from];
    std::string name = from.part.empty() ? from.name : from.part + "." + from.name;
    if (from.kind == "received") name += " received";
    names.push_back(edge.earlier ? name + " (a tick ago)" : name);
  }
  return list_words(names);
}

Table element_table(const CheckResult& result, const Picture& picture) {
  const Model& model = *result.compiled.model;
  Table table{.caption = "Inputs, elements and outputs, in the order of the text",
              .head = {"name", "what it is", "reads", "line"}};
  for (std::size_t index = 0; index < picture.nodes.size(); ++index) {
    const PictureNode& node = picture.nodes[index];
    const dsl::Signal& signal = model.signals[node.signal];
    std::string what = node.detail.empty() ? node.kind : node.kind + " " + node.detail;
    if (node.kind == "received") {
      what += " over the link";
    } else if (!node.doc.empty()) {
      what += fmt::format(": {}", node.doc);
    }
    table.rows.push_back({{{signal.name}},
                          {{std::move(what)}},
                          {{reads_words(picture, index)}},
                          {{line_words(result.compiled.sources, signal.place), Style::faint}, node.link}});
  }
  return table;
}

std::vector<SourceFile> view_sources(const CheckResult& result, const std::vector<ClaimView>& claims) {
  const dsl::Sources& sources = result.compiled.sources;
  std::vector<SourceFile> files;
  for (std::uint32_t file = 0; file < sources.size(); ++file) {
    SourceFile view{.name = sources.name(file)};
    std::string_view text = sources.text(file);
    while (!text.empty()) {
      const std::size_t end = std::min(text.find('\n'), text.size());
      std::string_view line = text.substr(0, end);
      if (line.ends_with('\r')) line.remove_suffix(1);
      view.lines.push_back({std::string(line)});
      text.remove_prefix(std::min(end + 1, text.size()));
    }
    files.push_back(std::move(view));
  }
  for (std::size_t index = 0; index < claims.size(); ++index) {
    const dsl::Place& place = result.compiled.model->claims[result.report->verdicts[index].claim].place;
    files[place.file].lines[sources.line_column(place).line - 1].marks.emplace_back(claims[index].mark,
                                                                                    claims[index].id);
  }
  return files;
}

/// The lines as they would stand on a wide terminal: they are set in one width, so that places stay marked.
std::vector<Span> view_warnings(const CheckResult& result) {
  std::vector<Span> lines;
  const Terminal terminal{.width = 96, .color = false, .unicode = true};
  for (const Line& line : warnings_page(result, terminal)) {
    Span whole;
    for (const Span& span : line) {
      whole.text += span.text;
      if (whole.style == Style::plain) whole.style = span.style;
    }
    lines.push_back(std::move(whole));
  }
  return lines;
}

}  // namespace

ReportPage page_of(const CheckResult& result, const BuildWishes& wishes) {
  const Model& model = *result.compiled.model;
  ReportPage page{.title = model.title.empty() ? result.compiled.sources.name(0) : model.title,
                  .file = result.compiled.sources.name(0),
                  .tick = dsl::time_text(1, model.tick_us),
                  .reach = reach_words(result),
                  .summary = {summary_words(model, *result.report), style_of(status_of(result))},
                  .picture = picture_of(result.compiled)};
  for (const Verdict& verdict : result.report->verdicts) {
    page.claims.push_back(view_claim(result, verdict, wishes));
  }
  page.warnings = view_warnings(result);
  page.elements = element_table(result, page.picture);
  page.sources = view_sources(result, page.claims);
  return page;
}

}  // namespace detent::cli::report
