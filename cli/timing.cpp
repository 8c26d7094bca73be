// Drawing. Conditions are two-row lines with an edge where they change; levels and positions are words
// between bars. Each row is a list of cells, one column each.
#include "cli/timing.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/timing_layout.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Signal;
using dsl::SortKind;
using dsl::Value;
using solver::Trace;

/// The characters of a diagram.
struct Pen {
  const char* line_high;
  const char* line_low;
  const char* rise_high;  ///< upper row of a rising edge
  const char* rise_low;
  const char* fall_high;
  const char* fall_low;
  const char* bar;
  const char* gap;
  const char* ruler;
  const char* tick;
  const char* mark;
};
constexpr Pen box_pen{"─", "─", "┌", "┘", "┐", "└", "│", "┄", "─", "┬", "▲"};
constexpr Pen plain_pen{"_", "_", " ", "|", " ", "|", "|", ".", "-", "+", "^"};

using Cells = std::vector<std::string>;

/// A diagram being drawn.
struct Drawing {
  const Model& model;
  const Trace& trace;
  const DiagramWishes& wishes;
  const Terminal& terminal;
  const Pen& pen;
  std::size_t name_width;
  std::size_t room;
  Layout layout;
  Page page;
};

std::string text_of(const Cells& cells, std::size_t begin, std::size_t end) {
  std::string text;
  for (std::size_t i = begin; i < end && i < cells.size(); ++i) text += cells[i];
  return text;
}

void write_at(Cells& cells, std::size_t column, std::string_view text) {
  for (; !text.empty() && column < cells.size(); ++column) {
    std::size_t bytes = 1;
    while (bytes < text.size() && (static_cast<unsigned char>(text[bytes]) & 0xC0U) == 0x80U) ++bytes;
    cells[column] = std::string(text.substr(0, bytes));
    text.remove_prefix(bytes);
  }
}

/// A row: name, cells, the last tick in the style of the mark.
void add_row(Drawing& drawing, const std::string& name, const Cells& cells, Style style) {
  const std::size_t last = drawing.layout.stretches.back().left;
  const std::string shown = shortened(name, drawing.name_width, drawing.terminal.unicode);
  const std::string gap(drawing.name_width - columns(shown) + 2, ' ');
  drawing.page.push_back({{drawing.wishes.indent + shown + gap},
                          {text_of(cells, 0, last), style},
                          {text_of(cells, last, drawing.room), drawing.wishes.mark_style}});
}

Cells empty_row(const Drawing& drawing) {
  return Cells(drawing.layout.width, " ");
}

/// The two cells that say that a stretch is longer than it is drawn.
void draw_gap(const Drawing& drawing, Cells& cells, const Stretch& stretch) {
  if (stretch.is_short() || stretch.width < 4) return;
  const std::size_t middle = stretch.left + stretch.width / 2;
  write_at(cells, middle, drawing.pen.gap);
  write_at(cells, middle + 1, drawing.pen.gap);
}

// ---- Rows ----

/// A link's line is high while it is lost: the name says so.
std::string row_name(const Signal& signal) {
  return is_link(signal) ? signal.name + " lost" : signal.name;
}

void draw_times(Drawing& drawing) {
  Cells numbers = empty_row(drawing);
  Cells ruler = empty_row(drawing);
  for (const Stretch& stretch : drawing.layout.stretches) {
    write_at(numbers, stretch.left, seconds_number(stretch.from, drawing.model.tick_us));
    for (std::size_t i = 0; i < stretch.width; ++i) {
      ruler[stretch.left + i] = i == 0 ? drawing.pen.tick : drawing.pen.ruler;
    }
    draw_gap(drawing, ruler, stretch);
  }
  add_row(drawing, "seconds", numbers, Style::faint);
  add_row(drawing, "", ruler, Style::faint);
}

void draw_edge(const Pen& pen, Cells& high, Cells& low, std::size_t column, bool rising) {
  high[column] = rising ? pen.rise_high : pen.fall_high;
  low[column] = rising ? pen.rise_low : pen.fall_low;
}

void draw_condition(Drawing& drawing, const Signal& signal) {
  Cells high = empty_row(drawing);
  Cells low = empty_row(drawing);
  bool before = value_in(drawing.trace, signal, drawing.layout.stretches.front()) != 0;
  for (const Stretch& stretch : drawing.layout.stretches) {
    const bool value = value_in(drawing.trace, signal, stretch) != 0;
    Cells& line = value ? high : low;
    for (std::size_t i = 0; i < stretch.width; ++i) {
      line[stretch.left + i] = value ? drawing.pen.line_high : drawing.pen.line_low;
    }
    draw_gap(drawing, line, stretch);
    if (value != before) draw_edge(drawing.pen, high, low, stretch.left, value);
    before = value;
  }
  add_row(drawing, "", high, Style::plain);
  add_row(drawing, row_name(signal), low, Style::plain);
}

void draw_words(Drawing& drawing, const Signal& signal) {
  Cells cells = empty_row(drawing);
  std::optional<Value> before;
  for (const Stretch& stretch : drawing.layout.stretches) {
    const Value value = value_in(drawing.trace, signal, stretch);
    if (before == value) continue;
    write_at(cells, stretch.left, drawing.pen.bar);
    write_at(cells, stretch.left + 2, label_in(drawing.trace, signal, stretch, drawing.terminal.unicode));
    before = value;
  }
  add_row(drawing, signal.name, cells, Style::plain);
}

/// A condition that stays what it is has nothing to draw: a word says it.
void draw_signal(Drawing& drawing, const Signal& signal) {
  const bool lines =
      signal.sort.kind == SortKind::condition && !stays(drawing.trace, signal, drawing.layout.stretches);
  lines ? draw_condition(drawing, signal) : draw_words(drawing, signal);
}

void draw_mark(Drawing& drawing) {
  const std::size_t column = drawing.layout.stretches.back().left;
  const std::string margin = drawing.wishes.indent + std::string(drawing.name_width + 2, ' ');
  const std::string& words = drawing.wishes.mark;
  const bool fits_right = column + 2 + columns(words) <= drawing.room;
  const bool fits_left = columns(words) + 1 <= column;
  const std::string mark = fits_right  ? fmt::format("{} {}", drawing.pen.mark, words)
                           : fits_left ? fmt::format("{} {}", words, drawing.pen.mark)
                                       : std::string(drawing.pen.mark);
  const std::size_t start = fits_right || !fits_left ? column : column - columns(words) - 1;
  drawing.page.push_back({{margin + std::string(start, ' ')}, {mark, drawing.wishes.mark_style}});
}

// ---- What the reader has to know ----

void explain(Drawing& drawing) {
  const Layout& layout = drawing.layout;
  const std::string& indent = drawing.wishes.indent;
  if (layout.cut > 0) {
    const std::string from = seconds_number(layout.stretches.front().from, drawing.model.tick_us);
    add_paragraph(
        drawing.page, indent,
        fmt::format("Cut to the width of the page: {} before {} s not shown here (--width N makes it wider).",
                    count_words(layout.cut, "moment"), from),
        drawing.terminal, Style::faint);
  }
  const bool gaps = std::any_of(layout.stretches.begin(), layout.stretches.end(),
                                [](const Stretch& stretch) { return !stretch.is_short(); });
  if (gaps) {
    add_paragraph(drawing.page, indent,
                  fmt::format("{0}{0} is time that is drawn shorter than it is.", drawing.pen.gap),
                  drawing.terminal, Style::faint);
  }
}

std::size_t width_of_names(const Model& model, const DiagramWishes& wishes, std::size_t most) {
  std::size_t widest = columns("seconds");
  for (const std::uint32_t index : wishes.signals)
    widest = std::max(widest, columns(row_name(model.signals[index])));
  return std::min(widest, most);
}

Drawing begin_drawing(const Model& model, const Trace& trace, const DiagramWishes& wishes,
                      const Terminal& terminal) {
  const std::size_t width = terminal.width - std::min(columns(wishes.indent), terminal.width / 2);
  const std::size_t names = width_of_names(model, wishes, width / 3);
  const std::size_t room = width - names - 2;
  return {model,
          trace,
          wishes,
          terminal,
          terminal.unicode ? box_pen : plain_pen,
          names,
          room,
          lay_out(model, trace, wishes.signals, room, terminal.unicode),
          {}};
}

}  // namespace

Page timing_diagram(const Model& model, const Trace& trace, const DiagramWishes& wishes,
                    const Terminal& terminal) {
  if (trace.ticks() == 0 || wishes.signals.empty()) return {};
  Drawing drawing = begin_drawing(model, trace, wishes, terminal);
  draw_times(drawing);
  for (const std::uint32_t index : wishes.signals) draw_signal(drawing, model.signals[index]);
  draw_mark(drawing);
  explain(drawing);
  return std::move(drawing.page);
}

}  // namespace detent::cli
