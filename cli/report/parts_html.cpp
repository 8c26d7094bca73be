#include "cli/report/parts_html.hpp"

#include <fmt/format.h>

#include "cli/report/draw.hpp"

namespace detent::cli::report {
namespace {

const char* word_of(Mark mark) {
  switch (mark) {
    case Mark::proved:
      return "proved";
    case Mark::possible:
      return "possible";
    case Mark::refuted:
      return "REFUTED";
    case Mark::undecided:
      break;
  }
  return "undecided";
}

/// On a narrow screen rows are no longer drawn as rows: then roles and heads say what the cells are.
void add_cell(Html& html, const Cell& cell, const std::string& head, bool first) {
  Attributes attributes{{"class", class_of(cell.words.style)}};
  if (first) {
    attributes.insert(attributes.end(), {{"scope", "row"}, {"role", "rowheader"}});
  } else {
    attributes.insert(attributes.end(), {{"role", "cell"}, {"data-head", head}});
  }
  html.open(first ? "th" : "td", attributes);
  if (!cell.link.empty()) {
    html.element("a", {{"href", cell.link}}, cell.words.text);
  } else if (!cell.spoken.empty()) {
    html.element("span", {{"aria-hidden", "true"}}, cell.words.text);
    html.element("span", {{"class", "unseen"}}, cell.spoken);
  } else {
    html.text(cell.words.text);
  }
  html.close();
}

struct BlockWriter {
  Html& html;
  void operator()(const Span& words) const { add_sentence(html, words); }
  void operator()(const Heading& heading) const { html.element("h3", {}, heading.text); }
  void operator()(const Table& table) const { add_table(html, table); }
  void operator()(const RunView& run) const { add_run(html, run); }
  void operator()(const Strip& strip) const {
    open_scroll(html, strip.name);
    draw_strip(html, strip);
    html.close();
  }
};

void add_line(Html& html, std::size_t file, std::size_t number, const SourceLine& line) {
  html.open("div", {{"class", line.marks.empty() ? "line" : "line claimed"},
                    {"id", fmt::format("f{}-L{}", file, number)}});
  html.element("span", {{"class", "number"}}, std::to_string(number));
  html.open("span", {{"class", "verdict"}});
  for (const auto& [mark, id] : line.marks) {
    html.open("a", {{"href", "#" + id}, {"aria-label", word_of(mark)}, {"title", word_of(mark)}});
    draw_mark(html, mark);
    html.close();
  }
  html.close();
  html.element("code", {}, line.text);
  html.close();
}

}  // namespace

const char* class_of(Style style) {
  switch (style) {
    case Style::good:
      return "good";
    case Style::bad:
      return "bad";
    case Style::unsure:
      return "unsure";
    case Style::faint:
      return "faint";
    case Style::strong:
      return "strong";
    case Style::plain:
      break;
  }
  return "";
}

void add_sentence(Html& html, const Span& words) {
  html.element("p", {{"class", std::string("sentence ") + class_of(words.style)}}, words.text);
}

void open_scroll(Html& html, const std::string& label) {
  html.open("div", {{"class", "scroll"}, {"tabindex", "0"}, {"role", "group"}, {"aria-label", label}});
}

void add_table(Html& html, const Table& table) {
  open_scroll(html, table.caption);
  html.open("table", {{"class", table.narrow_cells ? "narrow" : "wordy"}, {"role", "table"}});
  html.open("caption");
  html.element("span", {}, table.caption);
  html.close();
  html.open("thead", {{"role", "rowgroup"}});
  html.open("tr", {{"role", "row"}});
  for (const std::string& head : table.head) {
    html.open("th", {{"scope", "col"}, {"role", "columnheader"}});
    html.name(head);
    html.close();
  }
  html.close();
  html.close();
  html.open("tbody", {{"role", "rowgroup"}});
  for (const std::vector<Cell>& row : table.rows) {
    html.open("tr", {{"role", "row"}});
    for (std::size_t index = 0; index < row.size(); ++index) {
      add_cell(html, row[index], index < table.head.size() ? table.head[index] : "", index == 0);
    }
    html.close();
  }
  html.close();
  html.close();
  html.close();
}

void add_claim(Html& html, const ClaimView& claim) {
  html.open("article", {{"class", std::string("claim ") + class_of(claim.verdict.style)}, {"id", claim.id}});
  html.open("header");
  html.open("p", {{"class", "verdict"}});
  draw_mark(html, claim.mark);
  html.element("span", {}, claim.verdict.text);
  html.close();
  html.element("h3", {}, claim.name);
  if (!claim.sentence.empty()) html.element("p", {{"class", "says"}}, claim.sentence);
  html.open("p", {{"class", "as-written"}});
  html.element("code", {}, claim.text);
  html.text(" ");
  html.element("a", {{"href", claim.link}}, claim.line);
  html.close();
  html.close();
  if (!claim.remark.empty()) add_sentence(html, {claim.remark, Style::unsure});
  if (!claim.reasons.empty()) {
    html.open("dl", {{"class", "reasons"}});
    for (const auto& [what, words] : claim.reasons) {
      html.element("dt", {}, what);
      html.element("dd", {}, words);
    }
    html.close();
  }
  for (const RunView& run : claim.runs) add_run(html, run);
  html.close();
}

void add_section(Html& html, const Section& section) {
  html.open("section", {{"id", section.id}, {"aria-labelledby", section.id + "-title"}});
  html.element("h2", {{"id", section.id + "-title"}}, section.title);
  for (const Block& block : section.blocks) std::visit(BlockWriter{html}, block);
  html.close();
}

void add_sources(Html& html, const std::vector<SourceFile>& sources) {
  html.open("section", {{"id", "text"}, {"aria-labelledby", "text-title"}});
  html.element("h2", {{"id", "text-title"}}, "The text");
  for (std::size_t file = 0; file < sources.size(); ++file) {
    html.element("h3", {}, sources[file].name);
    open_scroll(html, sources[file].name);
    html.open("div", {{"class", "source"}});
    for (std::size_t line = 0; line < sources[file].lines.size(); ++line) {
      add_line(html, file, line + 1, sources[file].lines[line]);
    }
    html.close();
    html.close();
  }
  html.close();
}

}  // namespace detent::cli::report
