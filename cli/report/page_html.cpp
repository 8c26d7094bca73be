// Most important first: what must be known before anything is touched, the verdicts, what breaks and how,
// what is proved and why; then what was asked for besides, and the text.
#include "cli/report/page_html.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/report/assets.hpp"
#include "cli/report/draw.hpp"
#include "cli/report/parts_html.hpp"

namespace detent::cli::report {
namespace {

/// Nothing may be fetched from anywhere, whatever a browser thinks that it has found in the page.
constexpr const char* policy =
    "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; base-uri 'none'; "
    "form-action 'none'";

class Writer {
 public:
  explicit Writer(const ReportPage& page) : page_(page) {}

  std::string write() {
    html_.raw("<!DOCTYPE html>\n");
    html_.open("html", {{"lang", "en"}});
    head();
    html_.open("body");
    html_.element("a", {{"class", "skip"}, {"href", "#main"}}, "To the verdicts");
    top();
    navigation();
    html_.open("main", {{"id", "main"}});
    verdicts();
    design();
    claims("runs", "Runs, to be stepped through",
           "What is filled is on, what has just changed has a heavy frame, and what is pale has no bearing "
           "on the "
           "claim. A mark says where the claim breaks, or where it is done.",
           [](const ClaimView& claim) { return !claim.runs.empty(); });
    claims("proofs", "Proofs, and what they rest on", "",
           [](const ClaimView& claim) { return claim.runs.empty(); });
    warnings();
    for (const Section& section : page_.sections) add_section(html_, section);
    add_sources(html_, page_.sources);
    html_.close();
    foot();
    html_.open("script");
    html_.raw(page_js);
    html_.close();
    html_.close();
    html_.close();
    html_.raw("\n");
    return html_.take();
  }

 private:
  void head() {
    html_.open("head");
    html_.lone("meta", {{"charset", "utf-8"}});
    html_.lone("meta", {{"http-equiv", "Content-Security-Policy"}, {"content", policy}});
    html_.lone("meta", {{"name", "viewport"}, {"content", "width=device-width, initial-scale=1"}});
    html_.lone("meta", {{"name", "color-scheme"}, {"content", "light dark"}});
    html_.element("title", {}, page_.title + ": what was checked");
    html_.open("style");
    html_.raw(page_css);
    html_.close();
    html_.close();
  }

  void top() {
    html_.open("header", {{"class", "top"}});
    html_.open("div", {{"class", "heading"}});
    html_.element("p", {{"class", "kicker"}}, "What was checked, and what was found");
    html_.element("h1", {}, page_.title);
    html_.open("p", {{"class", "file"}});
    html_.element("code", {}, page_.file);
    html_.text(", a tick is " + page_.tick + ". " + page_.reach);
    html_.close();
    html_.close();
    html_.open("aside", {{"class", "caution"}, {"aria-label", "Before you touch anything"}});
    html_.element("p", {{"class", "caution-title"}}, "Before you touch anything: blade or propeller off.");
    html_.element(
        "p", {},
        "A proof is about the model in the text, not about your wiring, your radio or your firmware "
        "settings. Local codes and licensed practice decide what is allowed; this is an aid to "
        "thinking, not a safety assessment.");
    html_.close();
    html_.close();
  }

  void link(const std::string& id, const std::string& words) {
    html_.open("li");
    html_.element("a", {{"href", "#" + id}}, words);
    html_.close();
  }

  [[nodiscard]] bool any_run() const {
    return std::any_of(page_.claims.begin(), page_.claims.end(),
                       [](const ClaimView& claim) { return !claim.runs.empty(); });
  }
  [[nodiscard]] bool any_without_run() const {
    return std::any_of(page_.claims.begin(), page_.claims.end(),
                       [](const ClaimView& claim) { return claim.runs.empty(); });
  }

  void navigation() {
    html_.open("nav", {{"aria-label", "On this page"}});
    html_.open("ul");
    link("verdicts", "Verdicts");
    link("design", "Design");
    if (any_run()) link("runs", "Runs");
    if (any_without_run()) link("proofs", "Proofs");
    if (!page_.warnings.empty()) link("warnings", "Warnings");
    for (const Section& section : page_.sections) link(section.id, section.short_title);
    link("text", "Text");
    html_.close();
    html_.close();
  }

  void open_section(const char* id, const char* title) {
    html_.open("section", {{"id", id}, {"aria-labelledby", std::string(id) + "-title"}});
    html_.element("h2", {{"id", std::string(id) + "-title"}}, title);
  }

  void verdicts() {
    open_section("verdicts", "Verdicts");
    html_.element("p", {{"class", std::string("summary said-") + class_of(page_.summary.style)}},
                  page_.summary.text);
    html_.open("ul", {{"class", "verdict-list"}});
    for (const ClaimView& claim : page_.claims) {
      html_.open("li", {{"class", class_of(claim.verdict.style)}});
      draw_mark(html_, claim.mark);
      html_.open("a", {{"href", "#" + claim.id}, {"class", "name"}});
      html_.name(claim.name);
      html_.close();
      html_.element("p", {{"class", "says"}}, claim.sentence.empty() ? claim.text : claim.sentence);
      html_.element("p", {{"class", "word"}}, claim.verdict.text);
      html_.close();
    }
    html_.close();
    html_.close();
  }

  void design() {
    open_section("design", "The design");
    if (page_.picture.why_not.empty() && !page_.picture.nodes.empty()) {
      html_.element(
          "p", {{"class", "legend"}},
          "Inputs stand on the left and point into the design, outputs end in a bar on the right. A "
          "dashed line carries what was so one tick ago. Every element leads to its line in the text.");
      open_scroll(html_, "The design as a picture, can be scrolled sideways");
      draw_picture(html_, page_.picture,
                   "The design: inputs, elements and outputs; the table below lists them");
      html_.close();
    } else if (!page_.picture.why_not.empty()) {
      add_sentence(html_, {page_.picture.why_not, Style::unsure});
    }
    add_table(html_, page_.elements);
    html_.close();
  }

  /// Those that a choice takes, what is refuted first.
  template <class Choice>
  void claims(const char* id, const char* title, const char* legend, const Choice& choice) {
    std::vector<const ClaimView*> chosen;
    for (const ClaimView& claim : page_.claims) {
      if (choice(claim)) chosen.push_back(&claim);
    }
    if (chosen.empty()) return;
    const auto weight = [](const ClaimView* claim) {
      return claim->mark == Mark::refuted ? 0 : claim->mark == Mark::undecided ? 1 : 2;
    };
    std::stable_sort(chosen.begin(), chosen.end(),
                     [&](const ClaimView* a, const ClaimView* b) { return weight(a) < weight(b); });
    open_section(id, title);
    if (*legend != 0) html_.element("p", {{"class", "legend"}}, legend);
    for (const ClaimView* claim : chosen) add_claim(html_, *claim);
    html_.close();
  }

  void warnings() {
    if (page_.warnings.empty()) return;
    open_section("warnings", "Warnings");
    open_scroll(html_, "Warnings");
    html_.open("pre");
    for (const Span& line : page_.warnings) {
      html_.element("span", {{"class", class_of(line.style)}}, line.text);
      html_.text("\n");
    }
    html_.close();
    html_.close();
    html_.close();
  }

  void foot() {
    html_.open("footer");
    html_.element("p", {},
                  "A proof is about the model, not the wiring: blade or propeller off on the bench.");
    html_.element("p", {{"class", "faint"}}, "Written by " + page_.version);
    html_.close();
  }

  const ReportPage& page_;
  Html html_;
};

}  // namespace

std::string page_html(const ReportPage& page) {
  return Writer(page).write();
}

}  // namespace detent::cli::report
