// What a run is made of on the page. The script is given numbers and words only, as JSON; it puts them in as
// text, never as HTML.
#include <nlohmann/json.hpp>

#include "cli/report/draw.hpp"
#include "cli/report/parts_html.hpp"

namespace detent::cli::report {
namespace {

using Json = nlohmann::ordered_json;

Json json_of(const RunView& run) {
  Json signals = Json::array();
  for (const SignalView& signal : run.signals) {
    Json spans = Json::array();
    for (const ValueSpan& span : signal.spans)
      spans.push_back({span.from, span.value, printable(span.words, true)});
    signals.push_back(
        {{"name", printable(signal.name, true)}, {"level", signal.level}, {"spans", std::move(spans)}});
  }
  return {{"tickUs", run.tick_us}, {"ticks", run.ticks},     {"events", run.events},
          {"signals", signals},    {"bearing", run.bearing}, {"picture", run.in_picture}};
}

void add_button(Html& html, const char* what, const char* label, const char* sign) {
  html.open("button", {{"type", "button"}, {"data-go", what}, {"title", label}, {"aria-label", label}});
  html.open("svg", {{"viewBox", "0 0 20 20"}, {"width", "20"}, {"height", "20"}, {"aria-hidden", "true"}});
  html.element("path", {{"d", sign}});
  html.close();
  html.close();
}

void add_controls(Html& html, const RunView& run) {
  const std::string last = std::to_string(run.ticks - 1);
  html.open("div", {{"class", "controls"}, {"hidden", ""}});
  add_button(html, "first", "To the beginning", "M5 4v12M15 4l-7 6l7 6z");
  add_button(html, "event-back", "One event back", "M16 4l-6 6l6 6zM10 4l-6 6l6 6z");
  add_button(html, "tick-back", "One tick back", "M13 4l-7 6l7 6z");
  html.open("label", {{"class", "slider"}});
  html.element("span", {{"class", "unseen"}}, "Tick of " + run.title);
  html.lone("input", {{"type", "range"},
                      {"min", "0"},
                      {"max", last},
                      {"value", "0"},
                      {"step", "1"},
                      {"autocomplete", "off"},
                      {"aria-valuetext", "0 s, tick 0"}});
  html.close();
  add_button(html, "tick-on", "One tick on", "M7 4l7 6l-7 6z");
  add_button(html, "event-on", "One event on", "M4 4l6 6l-6 6zM10 4l6 6l-6 6z");
  add_button(html, "last", "To the end", "M15 4v12M5 4l7 6l-7 6z");
  html.element("output", {{"class", "clock"}});
  html.element("p", {{"class", "keys"}},
               "Keys: ← and → from event to event, with Shift from tick to tick; Home and End.");
  html.close();
}

void add_story(Html& html, const RunView& run) {
  html.open("ol", {{"class", "story"}});
  for (const StoryStep& step : run.story) {
    html.open("li", {{"data-tick", std::to_string(step.tick)}});
    html.element("span", {{"class", "when"}}, step.when);
    for (const std::string& sentence : step.sentences) html.element("p", {}, sentence);
    html.close();
  }
  html.close();
}

}  // namespace

void add_run(Html& html, const RunView& run) {
  html.open("div", {{"class", run.mark_style == Style::good ? "player good" : "player bad"},
                    {"id", run.id},
                    {"role", "group"},
                    {"aria-label", run.title}});
  html.open("div", {{"class", "stage"},
                    {"hidden", ""},
                    {"tabindex", "0"},
                    {"role", "group"},
                    {"aria-label", run.title + ": the design at this tick, can be scrolled sideways"}});
  html.close();
  add_controls(html, run);
  html.element("p", {{"class", "told"}, {"aria-live", "polite"}, {"hidden", ""}});
  html.open("div", {{"class", "pair"}});
  html.open("div", {{"class", "drawn"}});
  draw_diagram(html, run);
  html.close();
  add_story(html, run);
  html.close();
  html.open("script", {{"type", "application/json"}});
  html.raw(for_script(json_of(run).dump(-1, ' ', false, Json::error_handler_t::replace)));
  html.close();
  html.close();
}

}  // namespace detent::cli::report
