// Row by row. What a row says holds from its time up to the next row's; in between the model is played on
// tick by tick, and every stretch in which neither side changes is one piece to compare. An input that moves
// between two ticks is seen by the model at the next one, all that moved since the last tick together.
#include "cli/replay_study.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

#include "cli/model_clock.hpp"
#include "cli/time_text.hpp"
#include "cli/value_text.hpp"

namespace detent::cli {
namespace {

using dsl::Model;

/// As many as the longest time that a design may speak of.
constexpr Value most_log_ticks = 1'000'000'000;

/// A column and what it said last; cells of a log repeat themselves.
struct Reader {
  const LogColumn* column = nullptr;
  std::string text = {};
  std::optional<std::int64_t> value = {};
};

class Replayer {
 public:
  Replayer(const Model& model, CsvReader& reader, LogColumns columns, const ReplayWishes& wishes)
      : model_(model),
        reader_(reader),
        wishes_(wishes),
        clock_(model, all_claims(model)),
        inputs_(at_rest(model)) {
    replay_.separator = reader.separator();
    replay_.columns = std::move(columns);
    for (const auto& [signal, value] : replay_.columns.still) inputs_[model.signals[signal].input] = value;
    for (const LogColumn& column : replay_.columns.inputs) hands_.push_back({.column = &column});
    for (const LogColumn& column : replay_.columns.outputs) {
      outputs_.push_back({.column = &column});
      replay_.compared.push_back({column.signal, column.header});
      closeness_.emplace_back(wishes.tolerance, wishes.level_tolerance[column.signal]);
    }
  }

  std::variant<Replay, CsvProblem> replay(const std::atomic<bool>* cancel) {
    cancel_ = cancel;
    while (!is_cancelled() && reader_.next()) {
      if (auto problem = take_row()) return std::move(*problem);
    }
    replay_.interrupted = is_cancelled();
    if (reader_.problem()) return *reader_.problem();
    if (replay_.rows == 0 && !replay_.interrupted) {
      return CsvProblem{1, 0, "there is no row behind the header", "record at least one row"};
    }
    finish();
    return std::move(replay_);
  }

 private:
  using Problem = std::optional<CsvProblem>;

  static std::vector<std::uint32_t> all_claims(const Model& model) {
    std::vector<std::uint32_t> claims(model.claims.size());
    std::iota(claims.begin(), claims.end(), 0U);
    return claims;
  }

  [[nodiscard]] CsvProblem problem(std::size_t field, std::string what, std::string mend) const {
    return {reader_.row(), field + 1, std::move(what), std::move(mend)};
  }

  static std::string quoted(std::string_view text) {
    return fmt::format("'{}{}'", text.substr(0, 60), text.size() > 60 ? "…" : "");
  }

  Problem take_row() {
    const std::size_t expected = replay_.columns.fields;
    if (reader_.fields() != expected) {
      return CsvProblem{
          reader_.row(), 0, fmt::format("the row has {} fields, the header {}", reader_.fields(), expected),
          "let every row have as many fields as the header; put a field that holds a separator in quotes"};
    }
    if (auto trouble = take_time()) return trouble;
    if (replay_.rows > 0) play_to(time_);
    row_ = reader_.row();
    ++replay_.rows;
    if (auto trouble = take_hands()) return trouble;
    return take_outputs();
  }

  Problem take_time() {
    const std::size_t field = replay_.columns.time_field;
    const std::string_view text = trimmed(reader_.field(field));
    const std::optional<Decimal> number = read_decimal(text, reader_.separator() != ',');
    const auto time = number ? scaled(*number, replay_.columns.time_unit) : std::nullopt;
    constexpr std::int64_t latest = 4'000'000'000'000'000'000;
    if (!time || time->value > latest || time->value < -latest) {
      return problem(field, fmt::format("{} is no time", quoted(text)),
                     "write the time of the row as a plain number, in the unit of the header");
    }
    if (replay_.rows == 0) first_ = time->value;
    if (time->value - first_ < time_) {
      return problem(field,
                     fmt::format("the time {} goes back; the row before has {}", quoted(text),
                                 nanoseconds_words(first_ + time_)),
                     "sort the rows by their time");
    }
    time_ = time->value - first_;
    if (time_ / tick() > most_log_ticks) {
      return problem(
          field, fmt::format("{} is more than {} ticks after the first row", quoted(text), most_log_ticks),
          "look whether the unit of the time column is right, or cut the log");
    }
    return std::nullopt;
  }

  Problem take_hands() {
    bool moved = false;
    for (Reader& hand : hands_) {
      const std::string_view text = reader_.field(hand.column->field);
      if (trimmed(text).empty()) {
        if (replay_.rows == 1) {
          return problem(hand.column->field, fmt::format("'{}' has no value yet", hand.column->header),
                         "an input needs a value in the first row");
        }
        continue;
      }
      if (hand.value && text == hand.text) continue;
      const std::optional<std::int64_t> cell =
          read_cell(model_, *hand.column, text, reader_.separator() != ',');
      const std::optional<Value> value = cell ? on_grid(hand.column->signal, *cell) : std::nullopt;
      if (!value)
        return problem(hand.column->field, bad_cell(hand, text, cell.has_value()),
                       mend_for(hand, cell.has_value()));
      hand.text = text;
      hand.value = cell;
      Value& input = inputs_[model_.signals[hand.column->signal].input];
      moved = moved || input != *value;
      input = *value;
    }
    const Value seen_at = (time_ + tick() - 1) / tick();
    if (moved && replay_.rows > 1 && seen_at == last_seen_at_) ++replay_.together;
    if (moved) last_seen_at_ = seen_at;
    return std::nullopt;
  }

  Problem take_outputs() {
    for (Reader& output : outputs_) {
      const std::string_view text = reader_.field(output.column->field);
      if (trimmed(text).empty() || (output.value && text == output.text)) continue;
      const std::optional<std::int64_t> cell =
          read_cell(model_, *output.column, text, reader_.separator() != ',');
      if (!cell) return problem(output.column->field, bad_cell(output, text, false), mend_for(output, false));
      output.text = text;
      output.value = cell;
    }
    return std::nullopt;
  }

  std::string bad_cell(const Reader& reader, std::string_view text, bool out_of_range) const {
    const std::string& name = model_.signals[reader.column->signal].name;
    return out_of_range ? fmt::format("{} is beyond what {} can be", quoted(text), name)
                        : fmt::format("{} is no value of {}", quoted(text), name);
  }

  std::string mend_for(const Reader& reader, bool out_of_range) const {
    if (!out_of_range) return cell_mend(model_, *reader.column);
    const dsl::Signal& signal = model_.signals[reader.column->signal];
    const dsl::Range& range = model_.circuit.inputs()[signal.input].range;
    return fmt::format(
        "it goes from {} to {}; say in which units the log is (--scale), or allow more (--tolerance-level)",
        dsl::to_text(range.low, signal.sort), dsl::to_text(range.high, signal.sort));
  }

  /// The input's nearest step; a level a little beyond its ends is at the end.
  std::optional<Value> on_grid(std::uint32_t index, std::int64_t cell) const {
    const dsl::Signal& signal = model_.signals[index];
    if (signal.sort.kind != dsl::SortKind::level) return cell;
    const dsl::CircuitInput& input = model_.circuit.inputs()[signal.input];
    const std::int64_t step = input.step * fine_per_step;
    const std::int64_t slack = std::max(step / 2, wishes_.level_tolerance[index]);
    const std::int64_t low = input.range.low * fine_per_step;
    const std::int64_t high = input.range.high * fine_per_step;
    if (cell < low - slack || cell > high + slack) return std::nullopt;
    const Wide steps = nearest_quotient(Wide{std::clamp(cell, low, high)} - low, step);
    return input.range.low + static_cast<Value>(steps) * input.step;
  }

  [[nodiscard]] Nanoseconds tick() const { return model_.tick_us * 1'000; }

  std::int64_t model_value(std::uint32_t index) const {
    const dsl::Signal& signal = model_.signals[index];
    const Value value = clock_.values()[signal.node];
    return signal.sort.kind == dsl::SortKind::level ? value * fine_per_step : value;
  }

  [[nodiscard]] bool is_cancelled() const {
    return cancel_ != nullptr && cancel_->load(std::memory_order_relaxed);
  }

  template <class Add>
  void play_pieces(Nanoseconds to, Add add) {
    while (now_ < to && !is_cancelled()) {
      const Nanoseconds end = clock_.reach(now_, to, inputs_);
      for (std::size_t index = 0; index < outputs_.size(); ++index) {
        if (outputs_[index].value)
          add(closeness_[index], end, *outputs_[index].value, model_value(outputs_[index].column->signal));
      }
      now_ = end;
    }
  }

  void play_to(Nanoseconds to) {
    play_pieces(to, [&](Closeness& one, Nanoseconds end, std::int64_t log, std::int64_t model) {
      one.add(now_, end, log, model, row_);
    });
  }

  /// The last row is a moment; what it says counts for that moment, and is taken to last for the tolerance.
  void finish() {
    replay_.length = time_;
    play_to(time_ + 1);
    replay_.ticks = clock_.ticks();
    clock_.stop_judging();
    play_pieces(time_ + 1 + wishes_.tolerance,
                [&](Closeness& one, Nanoseconds end, std::int64_t log, std::int64_t model) {
                  one.add_beyond(now_, end, log, model);
                });
    for (std::size_t index = 0; index < closeness_.size(); ++index) {
      closeness_[index].finish();
      replay_.compared[index].parting = closeness_[index].parting();
    }
    replay_.claims = std::move(clock_.claims());
    replay_.unkept = clock_.unkept();
  }

  const Model& model_;
  CsvReader& reader_;
  const ReplayWishes& wishes_;
  const std::atomic<bool>* cancel_ = nullptr;
  Replay replay_;
  ModelClock clock_;
  std::vector<Value> inputs_;
  std::vector<Reader> hands_, outputs_;
  std::vector<Closeness> closeness_;
  Nanoseconds first_ = 0, time_ = 0, now_ = 0;
  Value last_seen_at_ = 0;
  std::size_t row_ = 0;
};

}  // namespace

std::variant<Replay, CsvProblem> replay_log(const Model& model, CsvReader& reader, LogColumns columns,
                                            const ReplayWishes& wishes, const std::atomic<bool>* cancel) {
  return Replayer(model, reader, std::move(columns), wishes).replay(cancel);
}

const Compared* first_parting(const Replay& replay) {
  const Compared* first = nullptr;
  for (const Compared& one : replay.compared) {
    if (one.parting && (first == nullptr || one.parting->time < first->parting->time)) first = &one;
  }
  return first;
}

bool all_is_well(const Model& model, const Replay& replay) {
  return first_parting(replay) == nullptr && !replay.unkept && !any_broken(model, replay.claims);
}

}  // namespace detent::cli
