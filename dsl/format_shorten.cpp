// Breaks lines that are too long. Of the places where a line may be broken the best kind is taken (before a
// piece of the declaration, then before the loosest operator, the outermost brackets first), and of that kind
// the last that lets the line fit. What is looked at ends where the line is full, so that the work is that of
// reading the line.
#include <optional>

#include "dsl/format.hpp"
#include "dsl/format/lines.hpp"
#include "dsl/format/words.hpp"

namespace detent::dsl::format {
namespace {

class Shortener {
 public:
  explicit Shortener(Tokens& tokens) : tokens_(tokens) {}
  void add(Line line);
  std::vector<Line> take() { return std::move(lines_); }

 private:
  [[nodiscard]] std::optional<std::size_t> best_break(const Line& line) const;

  Tokens& tokens_;
  std::vector<Line> lines_;
};

std::optional<std::size_t> Shortener::best_break(const Line& line) const {
  std::size_t width = indent_of(tokens_, line) + width_of(tokens_[line.first].text);
  std::optional<std::size_t> best;
  int best_rank = no_rank;
  for (std::size_t at = line.first + 1; at < line.last; ++at) {
    const int rank = rank_of_break(tokens_, at);
    const bool fits = width <= line_columns;
    if (rank != no_rank && (!best || (fits && rank <= best_rank))) {
      best = at;
      best_rank = rank;
    }
    width += gap_before(tokens_, at) + tokens_[at].pad + width_of(tokens_[at].text);
    if (width > line_columns && best) return best;
  }
  return std::nullopt;
}

void Shortener::add(Line line) {
  while (const std::optional<std::size_t> at = best_break(line)) {
    lines_.push_back({line.first, *at});
    line.first = *at;
    if (tokens_[*at].begins_claim) tokens_[tokens_[*at].head].apart = true;
  }
  lines_.push_back(line);
}

}  // namespace

std::vector<Line> shortened(Tokens& tokens, const std::vector<Line>& lines) {
  Shortener shortener(tokens);
  for (const Line& line : lines) {
    shortener.add(line);
  }
  return shortener.take();
}

}  // namespace detent::dsl::format
