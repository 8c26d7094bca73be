// Every stretch is as wide as its time needs at the top, and every value has room for its words until it
// changes. What does not fit is cut from the left: the end of a run is what it is about.
#include "cli/timing_layout.hpp"

#include <algorithm>
#include <set>

#include "cli/moments.hpp"
#include "cli/page.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Signal;
using dsl::SortKind;
using solver::Trace;

constexpr std::size_t narrowest_short = 3;
constexpr std::size_t narrowest_quiet = 6;

std::vector<Stretch> find_stretches(const Model& model, const Trace& trace,
                                    const std::vector<std::uint32_t>& signals) {
  const Value last = static_cast<Value>(trace.ticks()) - 1;
  std::set<Value> moving;
  std::set<Value> starts{0, last};
  for (const Moment& moment : find_moments(model, trace, signals)) {
    starts.insert(moment.tick);
    if (moment.until == moment.tick) continue;
    moving.insert(moment.tick);
    if (moment.until < last) starts.insert(moment.until + 1);
  }
  std::vector<Stretch> stretches;
  for (auto start = starts.begin(); start != starts.end(); ++start) {
    const auto next = std::next(start);
    const Value end = next == starts.end() ? last + 1 : *next;
    stretches.push_back(
        {.from = *start, .end = end, .moving = moving.count(*start) != 0 && end - *start > 1});
  }
  return stretches;
}

void set_narrowest(Layout& layout, const Model& model) {
  for (Stretch& stretch : layout.stretches) {
    const std::size_t time = columns(seconds_number(stretch.from, model.tick_us)) + 1;
    stretch.width = std::max(time, stretch.is_short() ? narrowest_short : narrowest_quiet);
  }
}

/// Widens the stretches [begin, end), in which a label stands, to `needed` columns in all.
void make_room(Layout& layout, std::size_t begin, std::size_t end, std::size_t needed) {
  std::size_t have = 0;
  for (std::size_t i = begin; i < end; ++i) have += layout.stretches[i].width;
  if (have < needed) layout.stretches[end - 1].width += needed - have;
}

void fit_labels(Layout& layout, const Trace& trace, const Signal& signal, bool unicode) {
  const std::size_t count = layout.stretches.size();
  for (std::size_t begin = 0; begin < count;) {
    std::size_t end = begin + 1;
    const Value value = value_in(trace, signal, layout.stretches[begin]);
    while (end < count && value_in(trace, signal, layout.stretches[end]) == value) ++end;
    make_room(layout, begin, end, columns(label_in(trace, signal, layout.stretches[begin], unicode)) + 3);
    begin = end;
  }
}

void cut_to(Layout& layout, std::size_t count) {
  if (layout.stretches.size() <= count) return;
  const std::size_t gone = layout.stretches.size() - count;
  layout.stretches.erase(layout.stretches.begin(),
                         layout.stretches.begin() + static_cast<std::ptrdiff_t>(gone));
  layout.cut += gone;
}

void place(Layout& layout) {
  layout.width = 0;
  for (Stretch& stretch : layout.stretches) {
    stretch.left = layout.width;
    layout.width += stretch.width;
  }
}

}  // namespace

dsl::Value value_in(const Trace& trace, const Signal& signal, const Stretch& stretch) {
  return trace.at(static_cast<std::size_t>(stretch.end - 1), signal.node);
}

bool stays(const Trace& trace, const Signal& signal, const std::vector<Stretch>& stretches) {
  return std::all_of(stretches.begin(), stretches.end(), [&](const Stretch& stretch) {
    return value_in(trace, signal, stretch) == value_in(trace, signal, stretches.front());
  });
}

std::string label_in(const Trace& trace, const Signal& signal, const Stretch& stretch, bool unicode) {
  const Value value = value_in(trace, signal, stretch);
  const bool moves = stretch.moving && trace.at(static_cast<std::size_t>(stretch.from), signal.node) != value;
  const std::string arrow = moves ? (unicode ? "→ " : ">> ") : "";
  return arrow + dsl::to_text(value, signal.sort);
}

Layout lay_out(const Model& model, const Trace& trace, const std::vector<std::uint32_t>& signals,
               std::size_t room, bool unicode) {
  Layout layout{.stretches = find_stretches(model, trace, signals)};
  cut_to(layout, std::max<std::size_t>(2, room / narrowest_short));
  while (true) {
    set_narrowest(layout, model);
    for (const std::uint32_t index : signals) {
      const Signal& signal = model.signals[index];
      const bool has_words =
          signal.sort.kind != SortKind::condition || stays(trace, signal, layout.stretches);
      if (has_words) fit_labels(layout, trace, signal, unicode);
    }
    place(layout);
    if (layout.width <= room || layout.stretches.size() <= 2) return layout;
    cut_to(layout, layout.stretches.size() - 1);
  }
}

}  // namespace detent::cli
