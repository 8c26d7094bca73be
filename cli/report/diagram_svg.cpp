// A run as a timing diagram. A condition is a line that stands on a filled ground while it is on; levels and
// positions are words in cells. The columns are those of the diagram in the terminal; the cursor and the
// values beside the names are put in by the page's script.
#include <fmt/format.h>

#include <algorithm>

#include "cli/report/draw.hpp"
#include "cli/words.hpp"

namespace detent::cli::report {
namespace {

constexpr double row_height = 34;  // as in page.css: the names stand beside the rows
constexpr double head = 30;
constexpr double foot = 30;
constexpr double high = 7, low = 26;
constexpr double least_letter = 8.4;  // pixels for a column of the terminal's diagram
constexpr double most_letter = 40;
constexpr double usual_width = 600;
constexpr double left = 4;

class Diagram {
 public:
  Diagram(Html& html, const RunView& run)
      : html_(html),
        run_(run),
        letter_(std::clamp(usual_width / static_cast<double>(std::max<std::size_t>(run.columns, 1)),
                           least_letter, most_letter)),
        width_(static_cast<double>(run.columns) * letter_),
        bottom_(head + row_height * static_cast<double>(run.rows.size())) {}

  void draw() {
    const double height = bottom_ + foot;
    html_.open("svg", {{"class", "diagram"},
                       {"role", "img"},
                       {"aria-label", run_.title + ": timing diagram. The story says the same in words."},
                       {"viewBox", fmt::format("0 0 {} {}", length(width_ + 2 * left), length(height))},
                       {"width", length(width_ + 2 * left)},
                       {"height", length(height)}});
    draw_last();
    html_.element("rect", {{"class", "now"},
                           {"x", "0"},
                           {"y", "4"},
                           {"width", "0"},
                           {"height", length(bottom_ - 4)},
                           {"rx", "3"}});
    for (std::size_t row = 0; row < run_.rows.size(); ++row) draw_row(row);
    draw_times();
    draw_gaps();
    draw_words_of_mark();
    html_.close();
  }

  [[nodiscard]] double width() const { return width_ + 2 * left; }

  /// Where the columns stand, for the script: [from, end, left, width].
  [[nodiscard]] std::string places() const {
    std::string text;
    for (const Stretch& stretch : run_.stretches) {
      text += fmt::format("{}{},{},{},{}", text.empty() ? "" : " ", stretch.from, stretch.end,
                          length(x(stretch)), length(wide(stretch)));
    }
    return text;
  }

 private:
  [[nodiscard]] double x(const Stretch& stretch) const {
    return left + static_cast<double>(stretch.left) * letter_;
  }
  [[nodiscard]] double wide(const Stretch& stretch) const {
    return static_cast<double>(stretch.width) * letter_;
  }
  [[nodiscard]] double end(const Stretch& stretch) const { return x(stretch) + wide(stretch); }

  void line(const char* name, double x1, double y1, double x2, double y2) {
    html_.element("path",
                  {{"class", name},
                   {"d", fmt::format("M{} {}L{} {}", length(x1), length(y1), length(x2), length(y2))}});
  }

  void words(const char* name, double at, double y, std::string_view text, const char* anchor = "start") {
    html_.element("text", {{"class", name}, {"x", length(at)}, {"y", length(y)}, {"text-anchor", anchor}},
                  text);
  }

  /// The last tick is what the run is about.
  void draw_last() {
    const Stretch& last = run_.stretches.back();
    html_.element("rect", {{"class", run_.mark_style == Style::good ? "last good" : "last bad"},
                           {"x", length(x(last))},
                           {"y", length(head - 2)},
                           {"width", length(wide(last))},
                           {"height", length(bottom_ - head + 4)}});
  }

  void draw_words_of_mark() {
    if (run_.mark.empty()) return;
    const Stretch& last = run_.stretches.back();
    const double middle = x(last) + wide(last) / 2;
    const bool right = middle + 9 * static_cast<double>(columns(run_.mark)) < width_;
    const char* name = run_.mark_style == Style::good ? "mark-words good" : "mark-words bad";
    html_.element("path", {{"class", name},
                           {"d", fmt::format("M{} {}l6 10h-12z", length(middle), length(bottom_ + 5))}});
    words(name, right ? middle + 12 : middle - 12, bottom_ + 16, run_.mark, right ? "start" : "end");
  }

  void draw_times() {
    line("ruler", left, head - 6, left + width_, head - 6);
    for (const Stretch& stretch : run_.stretches) {
      line("ruler", x(stretch), head - 10, x(stretch), head - 2);
      words("time", x(stretch) + 3, head - 13, seconds_number(stretch.from, run_.tick_us));
    }
  }

  /// Through all rows, so that nobody reads off a length that is none.
  void draw_gaps() {
    for (const Stretch& stretch : run_.stretches) {
      if (stretch.is_short()) continue;
      const double middle = x(stretch) + wide(stretch) * 0.6;
      html_.element("rect", {{"class", "tear"},
                             {"x", length(middle - 4)},
                             {"y", length(head - 9)},
                             {"width", "8"},
                             {"height", length(bottom_ - head + 9)}});
      line("tear-edge", middle - 4, head - 9, middle - 4, bottom_);
      line("tear-edge", middle + 4, head - 9, middle + 4, bottom_);
    }
  }

  // ---- Rows ----

  void draw_row(std::size_t row) {
    const SignalView& signal = run_.signals[run_.rows[row]];
    const double top = head + row_height * static_cast<double>(row);
    html_.open("g", {{"class", "row"}, {"data-s", std::to_string(run_.rows[row])}});
    line("ground", left, top + low, left + width_, top + low);
    for_each_part(signal, [&](const ValueSpan& span, const Stretch& first, double to) {
      const bool moves = first.moving && span_at(signal, first.from).value != span.value;
      signal.condition ? draw_condition(span, x(first), to, top, &first == &run_.stretches.front())
                       : draw_cell((moves ? "→ " : "") + span.words, x(first), to, top);
    });
    html_.close();
  }

  /// Parts of one value in the columns, where a moving level has the value that it ends with.
  template <class Draw>
  void for_each_part(const SignalView& signal, const Draw& draw) const {
    for (std::size_t begin = 0; begin < run_.stretches.size();) {
      const ValueSpan& span = span_at(signal, run_.stretches[begin].end - 1);
      std::size_t after = begin + 1;
      while (after < run_.stretches.size() &&
             span_at(signal, run_.stretches[after].end - 1).value == span.value) {
        ++after;
      }
      draw(span, run_.stretches[begin], end(run_.stretches[after - 1]));
      begin = after;
    }
  }

  static const ValueSpan& span_at(const SignalView& signal, dsl::Value tick) {
    const auto next = std::upper_bound(signal.spans.begin(), signal.spans.end(), tick,
                                       [](dsl::Value at, const ValueSpan& span) { return at < span.from; });
    return *std::prev(next);
  }

  void draw_condition(const ValueSpan& span, double from, double to, double top, bool first) {
    if (!first) line("edge-line", from, top + high, from, top + low);
    if (span.value == 0) {
      line("off", from, top + low, to, top + low);
      return;
    }
    html_.element("rect", {{"class", "ground-on"},
                           {"x", length(from)},
                           {"y", length(top + high)},
                           {"width", length(to - from)},
                           {"height", length(low - high)}});
    line("on", from, top + high, to, top + high);
  }

  void draw_cell(const std::string& text, double from, double to, double top) {
    html_.element("rect", {{"class", "cell"},
                           {"x", length(from + 1)},
                           {"y", length(top + high)},
                           {"width", length(std::max(to - from - 2, 2.0))},
                           {"height", length(low - high)},
                           {"rx", "3"}});
    words("cell-words", from + 7, top + low - 5.5, text);
  }

  Html& html_;
  const RunView& run_;
  double letter_, width_, bottom_;
};

void draw_names(Html& html, const RunView& run) {
  html.open("div", {{"class", "names"}, {"aria-hidden", "true"}});
  html.element("div", {{"class", "names-head"}}, "seconds");
  for (const std::uint32_t row : run.rows) {
    const SignalView& signal = run.signals[row];
    html.open("div", {{"class", "names-row"}, {"data-s", std::to_string(row)}});
    html.element("span", {{"class", "name"}}, signal.name);
    html.element("span", {{"class", "value"}});
    html.close();
  }
  html.close();
}

/// How much smaller it must be to fit on A4.
double paper_scale(const RunView& run, double width) {
  constexpr double paper = 640, letter = 7.8, beside_names = 80;
  std::size_t widest = 0;
  for (const std::uint32_t row : run.rows) widest = std::max(widest, columns(run.signals[row].name));
  return std::min(1.0, paper / (width + letter * static_cast<double>(widest) + beside_names));
}

}  // namespace

void draw_diagram(Html& html, const RunView& run) {
  Diagram diagram(html, run);
  html.open("div", {{"class", "timing"},
                    {"style", fmt::format("--fit: {:.3f}", paper_scale(run, diagram.width()))},
                    {"tabindex", "0"},
                    {"role", "group"},
                    {"aria-label", run.title + ": timing diagram, can be scrolled sideways"},
                    {"data-places", diagram.places()}});
  draw_names(html, run);
  diagram.draw();
  html.close();
  const bool torn = std::any_of(run.stretches.begin(), run.stretches.end(),
                                [](const Stretch& stretch) { return !stretch.is_short(); });
  if (torn) {
    html.element("p", {{"class", "legend"}}, "Where the rows are torn, time is drawn shorter than it is.");
  }
}

}  // namespace detent::cli::report
