// Markdown and HTML. Whatever comes from a design is made harmless for either: no markup, no control
// characters.
#include <fmt/format.h>

#include <string_view>

#include "cli/drill_words.hpp"
#include "cli/page.hpp"

namespace detent::cli {
namespace {

std::string markdown(const std::string& text) {
  std::string safe;
  for (const char one : printable(text, true)) {
    if (std::string_view("|*_`<>[]\\#").find(one) != std::string_view::npos) safe += '\\';
    safe += one;
  }
  return safe;
}

std::string html(const std::string& text) {
  std::string safe;
  for (const char one : printable(text, true)) {
    switch (one) {
      case '&':
        safe += "&amp;";
        break;
      case '<':
        safe += "&lt;";
        break;
      case '>':
        safe += "&gt;";
        break;
      case '"':
        safe += "&quot;";
        break;
      default:
        safe += one;
    }
  }
  return safe;
}

using Escape = std::string (*)(const std::string&);

std::string joined(const std::vector<std::string>& items, Escape escape, std::string_view between) {
  std::string text;
  for (const std::string& item : items) {
    text += text.empty() ? "" : between;
    text += escape(item);
  }
  return text;
}

std::string bullets(const std::vector<std::string>& items) {
  std::string text;
  for (const std::string& item : items) text += fmt::format("- {}\n", markdown(item));
  return text + "\n";
}

std::string list(const std::vector<std::string>& items) {
  std::string text = "<ul>\n";
  for (const std::string& item : items) text += fmt::format("<li>{}</li>\n", html(item));
  return text + "</ul>\n";
}

constexpr const char* style = R"(
:root { color-scheme: light dark; }
body { font: 1rem/1.4 system-ui, sans-serif; margin: 1rem auto; max-width: 60rem; padding: 0 1rem; }
.caution { border: 2px solid #b3261e; border-radius: .4rem; padding: .2rem 1rem; margin: 1rem 0; }
.table { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; }
th, td { border: 1px solid #777; padding: .3rem .5rem; text-align: left; vertical-align: top; }
.mark { color: #b3261e; font-weight: bold; }
@media (prefers-color-scheme: dark) { .mark { color: #ff8a80; } .caution { border-color: #ff8a80; } }
.seen { min-width: 6rem; }
@media print { tr, .caution { break-inside: avoid; } thead { display: table-header-group; }
  body { margin: 0; max-width: none; font-size: 10pt; } }
@page { size: A4; margin: 14mm; }
)";

std::string html_row(const DrillLine& line) {
  const std::string mark =
      line.mark.empty() ? "" : fmt::format("<br><span class=\"mark\">! {}</span>", html(line.mark));
  return fmt::format(
      "<tr><th scope=\"row\">{}</th><td>{}</td><td>{}{}</td><td>{}</td><td class=\"seen\"></td></tr>\n",
      line.number, html(line.when), joined(line.doing, html, "<br>"), mark,
      joined(line.expected, html, "<br>"));
}

std::string html_section(const DrillSection& section) {
  std::string text = fmt::format("<h2>{}</h2>\n", html(section.title));
  if (!section.note.empty()) text += fmt::format("<p>{}</p>\n", html(section.note));
  text +=
      "<div class=\"table\" tabindex=\"0\" role=\"region\" aria-label=\"" + html(section.title) +
      "\">\n<table>\n<thead><tr><th scope=\"col\">Step</th><th scope=\"col\">Since power-up</th><th "
      "scope=\"col\">Do</th><th scope=\"col\">Expect</th><th scope=\"col\">Seen</th></tr></thead>\n<tbody>\n";
  for (const DrillLine& line : section.lines) text += html_row(line);
  return text + "</tbody>\n</table>\n</div>\n";
}

}  // namespace

std::string drill_markdown(const DrillReport& report) {
  std::string text = fmt::format("# {}\n\n", markdown(drill_title(report)));
  text += "**Cautions**\n\n" + bullets(cautions_before());
  text += fmt::format("From {}.\n\n", markdown(report.file)) + bullets(drill_summary(report));
  for (const DrillSection& section : drill_sections(report)) {
    text += fmt::format("## {}\n\n", markdown(section.title));
    if (!section.note.empty()) text += markdown(section.note) + "\n\n";
    text += "| step | since power-up | do | expect | seen |\n| --- | --- | --- | --- | --- |\n";
    for (const DrillLine& line : section.lines) {
      const std::string mark = line.mark.empty() ? "" : fmt::format("<br>**! {}**", markdown(line.mark));
      text +=
          fmt::format("| {} | {} | {}{} | {} | |\n", line.number, markdown(line.when),
                      joined(line.doing, markdown, "<br>"), mark, joined(line.expected, markdown, "<br>"));
    }
    text += "\n";
  }
  for (const DrillRemains& remains : drill_remains(report)) {
    text += fmt::format("## {}\n\n", markdown(remains.title)) + bullets(remains.items);
  }
  text += "**Before you leave the bench**\n\n" + bullets(cautions_after());
  text.pop_back();
  return text;
}

std::string drill_html(const DrillReport& report) {
  std::string text = fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
      "content=\"width=device-width, "
      "initial-scale=1\">\n<title>{0}</title>\n<style>{1}</style>\n</head>\n<body>\n"
      "<main>\n<h1>{0}</h1>\n",
      html(drill_title(report)), style);
  text += "<div class=\"caution\">\n" + list(cautions_before()) + "</div>\n";
  text += fmt::format("<p>From {}.</p>\n", html(report.file)) + list(drill_summary(report));
  for (const DrillSection& section : drill_sections(report)) text += html_section(section);
  for (const DrillRemains& remains : drill_remains(report)) {
    text += fmt::format("<h2>{}</h2>\n", html(remains.title)) + list(remains.items);
  }
  text += "<div class=\"caution\">\n" + list(cautions_after()) + "</div>\n";
  return text + "</main>\n</body>\n</html>\n";
}

}  // namespace detent::cli
