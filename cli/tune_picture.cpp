#include "cli/tune_picture.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace detent::cli {
namespace {

using solver::Standing;

constexpr const char* indent = "    ";
constexpr std::size_t most_lines = 51;
constexpr char mixed = '/';
constexpr char written_holds = 'W';
constexpr char written_fails = 'w';

char letter_of(Standing standing) {
  switch (standing) {
    case Standing::holds:
      return 'O';
    case Standing::fails:
      return '.';
    case Standing::no_design:
    case Standing::no_run:
      return '-';
    default:
      return '?';
  }
}

Style style_of(char letter) {
  if (letter == 'O' || letter == written_holds) return Style::good;
  if (letter == '.' || letter == written_fails) return Style::bad;
  return Style::unsure;
}

/// Values [begin, end) of an axis that one character stands for.
std::size_t share(std::size_t values, std::size_t room) {
  return (values + room - 1) / room;
}

class Picture {
 public:
  Picture(const TuneStudy& study, std::int64_t tick_us, const Terminal& terminal)
      : study_(study), tick_us_(tick_us) {
    for (const dsl::Value value : study.axes[0].values) {
      label_width_ = std::max(label_width_, columns(text(0, value)));
    }
    const std::size_t used = std::min<std::size_t>(label_width_ + 8, terminal.width - 10);
    wide_ = share(study.grid.columns, terminal.width - used);
    high_ = share(study.grid.rows, most_lines);
  }

  Page draw() {
    page_.push_back({{indent}, {fmt::format("{} upwards, {} to the right", name(0), name(1))}});
    const std::size_t lines = (study_.grid.rows + high_ - 1) / high_;
    for (std::size_t line = lines; line-- > 0;) draw_line(line);
    const auto& values = study_.axes[1].values;
    const std::string low = text(1, values.front());
    const std::string high = text(1, values.back());
    page_.push_back({{std::string(label_width_ + 6, ' ') + low + " to " + high, Style::faint}});
    page_.push_back({{indent + legend()}});
    return std::move(page_);
  }

 private:
  [[nodiscard]] std::string text(std::size_t axis, dsl::Value value) const {
    return dsl::value_text(study_.axes[axis].tunable, value, tick_us_);
  }
  [[nodiscard]] const std::string& name(std::size_t axis) const { return study_.axes[axis].tunable.name; }

  void draw_line(std::size_t line) {
    const std::string label = text(0, study_.axes[0].values[line * high_]);
    Line drawn{{indent + std::string(label_width_ - columns(label), ' ') + label + "  ", Style::faint}};
    for (std::size_t column = 0; column < study_.grid.columns; column += wide_) {
      const char letter = letter_at(line * high_, column);
      seen_.insert(letter);
      if (drawn.size() > 1 && drawn.back().style == style_of(letter)) {
        drawn.back().text += letter;
      } else {
        drawn.push_back({std::string(1, letter), style_of(letter)});
      }
    }
    page_.push_back(std::move(drawn));
  }

  [[nodiscard]] char letter_at(std::size_t row, std::size_t column) const {
    char letter = 0;
    bool written = false;
    for (std::size_t y = row; y < std::min(row + high_, study_.grid.rows); ++y) {
      for (std::size_t x = column; x < std::min(column + wide_, study_.grid.columns); ++x) {
        const std::size_t point = y * study_.grid.columns + x;
        const char one = letter_of(study_.at(point).standing);
        letter = letter == 0 || letter == one ? one : mixed;
        written = written || point == study_.grid.written;
      }
    }
    if (written && letter == 'O') return written_holds;
    return written && letter == '.' ? written_fails : letter;
  }

  [[nodiscard]] std::string legend() const {
    static constexpr std::pair<char, const char*> meanings[] = {{'O', "O holds"},
                                                                {'.', ". fails"},
                                                                {written_holds, "W as written, holds"},
                                                                {written_fails, "w as written, fails"},
                                                                {'-', "- no design"},
                                                                {'?', "? undecided"},
                                                                {mixed, "/ some hold, some not"}};
    std::string words;
    for (const auto& [letter, meaning] : meanings) {
      if (seen_.contains(letter)) words += (words.empty() ? "" : ", ") + std::string(meaning);
    }
    const std::size_t each = wide_ * high_;
    return each == 1 ? words : words + fmt::format("; a character stands for {} values", each);
  }

  const TuneStudy& study_;
  std::int64_t tick_us_;
  std::size_t label_width_ = 0, wide_ = 1, high_ = 1;
  std::set<char> seen_;
  Page page_;
};

}  // namespace

Page region_picture(const TuneStudy& study, std::int64_t tick_us, const Terminal& terminal) {
  return Picture(study, tick_us, terminal).draw();
}

}  // namespace detent::cli
