#include "cli/run_text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "cli/decimal.hpp"
#include "cli/run_json.hpp"
#include "cli/time_text.hpp"
#include "cli/value_text.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;

struct Trouble {
  std::string problem, mend;
};

/// Reads line by line; the first trouble ends it.
class RunReader {
 public:
  explicit RunReader(const Model& model) : model_(model), inputs_(at_rest(model)) {}

  std::optional<Trouble> read(std::string_view line) {
    if (const std::size_t comment = line.find("//"); comment != std::string_view::npos)
      line = line.substr(0, comment);
    if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
    line = trimmed(line);
    if (line.empty()) return std::nullopt;
    if (end_)
      return Trouble{"something stands behind the line that begins with 'end'", "let 'end' be the last line"};
    const std::size_t blank = std::min(line.find_first_of(" \t"), line.size());
    const std::string_view word = line.substr(0, blank);
    const std::string_view rest = trimmed(line.substr(blank));
    if (word == "tick") return read_tick(rest);
    if (word == "at") return read_at(rest);
    if (word == "end") return read_end(rest);
    return Trouble{fmt::format("'{}' begins no line of a run", word.substr(0, 60)),
                   "begin it with at, end, tick or //"};
  }

  Reading<HandRun> finish() {
    if (rows_.empty() && !end_) {
      return {.problem = "there is no run in it",
              .mend = "write at least one line, for example: at 0 s " + example_move()};
    }
    if (rows_.empty() || rows_.front().tick > 0) rows_.insert(rows_.begin(), {0, at_rest(model_)});
    const Value last = end_.value_or(rows_.back().tick);
    return {.value = HandRun{std::move(rows_), last + 1}};
  }

 private:
  std::optional<Trouble> read_tick(std::string_view rest) {
    const Reading<std::int64_t> length = read_nanoseconds(rest, model_.tick_us);
    if (!length.value) return Trouble{length.problem, "write for example: tick 50 ms"};
    if (*length.value == model_.tick_us * 1'000) return std::nullopt;
    return Trouble{fmt::format("the run was made for a tick of {}, but a tick of this design is {}", rest,
                               dsl::time_text(1, model_.tick_us)),
                   "times would mean something else; look through them, and write the design's tick here"};
  }

  std::optional<Trouble> read_at(std::string_view rest) {
    const std::optional<std::string_view> time = take_time(rest);
    if (!time)
      return Trouble{"behind 'at' there is no time", "write for example: at 0.5 s " + example_move()};
    const Reading<Value> tick = read_moment(*time, model_.tick_us);
    if (!tick.value) return Trouble{tick.problem, tick.mend};
    if (!rows_.empty() && *tick.value <= rows_.back().tick) {
      return Trouble{fmt::format("{} is not later than the line before", *time),
                     "let the times go up, and write what happens at once in one line"};
    }
    if (rest.empty())
      return Trouble{"nothing is moved there", "write for example: at 0.5 s " + example_move()};
    const Reading<std::vector<Move>> moves = read_moves(model_, rest);
    if (!moves.value) return Trouble{moves.problem, moves.mend};
    for (const Move& move : *moves.value) inputs_[model_.signals[move.signal].input] = move.value;
    if (rows_.empty() && *tick.value > 0) rows_.push_back({0, at_rest(model_)});
    rows_.push_back({*tick.value, inputs_});
    return std::nullopt;
  }

  std::optional<Trouble> read_end(std::string_view rest) {
    const Reading<Value> tick = read_moment(rest, model_.tick_us);
    if (!tick.value) return Trouble{tick.problem, tick.mend};
    if (!rows_.empty() && *tick.value < rows_.back().tick) {
      return Trouble{"the end is earlier than the last movement", "write a later end, or leave the line out"};
    }
    end_ = tick.value;
    return std::nullopt;
  }

  [[nodiscard]] std::string example_move() const {
    for (std::uint32_t index = 0; index < model_.signals.size(); ++index) {
      const dsl::Signal& signal = model_.signals[index];
      if (signal.role == dsl::SignalRole::hand)
        return move_text(model_, {index, at_rest(model_)[signal.input]});
    }
    return "thrust 40 %";
  }

  const Model& model_;
  std::vector<Value> inputs_;
  std::vector<HandRun::Row> rows_;
  std::optional<Value> end_;
};

/// The inputs that differ from the row before, all of them in the first row.
std::vector<std::string> moves_of(const Model& model, const HandRun& run, std::size_t row) {
  std::vector<std::string> moves;
  for (std::uint32_t index = 0; index < model.signals.size(); ++index) {
    const dsl::Signal& signal = model.signals[index];
    if (signal.role != dsl::SignalRole::hand) continue;
    const Value value = run.rows[row].inputs[signal.input];
    if (row == 0 || value != run.rows[row - 1].inputs[signal.input])
      moves.push_back(move_text(model, {index, value}));
  }
  return moves;
}

}  // namespace

Reading<HandRun> read_run(const Model& model, std::string_view text) {
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  const std::size_t first = text.find_first_not_of(" \t\r\n");
  if (first != std::string_view::npos && text[first] == '{') return read_json_run(model, text);
  RunReader reader(model);
  for (std::size_t line = 1; !text.empty(); ++line) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    if (std::optional<Trouble> trouble = reader.read(text.substr(0, end))) {
      return {.problem = fmt::format("line {}: {}", line, trouble->problem),
              .mend = std::move(trouble->mend)};
    }
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return reader.finish();
}

std::string run_text(const Model& model, const HandRun& run) {
  std::string text;
  if (!model.title.empty()) {
    std::string title = model.title;
    std::replace_if(
        title.begin(), title.end(), [](unsigned char letter) { return letter < ' '; }, ' ');
    text += fmt::format("// {}\n", title);
  }
  text += fmt::format("tick {}\n", seconds_words(1, model.tick_us));
  for (std::size_t row = 0; row < run.rows.size(); ++row) {
    const std::vector<std::string> moves = moves_of(model, run, row);
    if (!moves.empty()) {
      text += fmt::format("at {}  {}\n", seconds_words(run.rows[row].tick, model.tick_us),
                          fmt::join(moves, ", "));
    }
  }
  return text + fmt::format("end {}\n", seconds_words(run.ticks - 1, model.tick_us));
}

}  // namespace detent::cli
