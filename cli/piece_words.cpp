#include "cli/piece_words.hpp"

#include <fmt/format.h>

#include "cli/words.hpp"

namespace detent::cli {

PieceWords::PieceWords(const dsl::Model& model, const solver::Trace& trace, const dsl::Piece& piece)
    : model_(&model),
      trace_(&trace),
      text_(fmt::format("'{}'", piece.text)),
      is_true_(trace.at(trace.ticks() - 1, piece.node) != 0),
      fact_(read_fact(model, trace, piece)) {}

Value PieceWords::now(std::uint32_t signal) const {
  return trace_->at(trace_->ticks() - 1, model_->signals[signal].node);
}

/// What the signal is in the last tick; if it has just become so, that.
std::string PieceWords::state() const {
  const std::size_t ticks = trace_->ticks();
  const Value value = now(fact_->signal);
  const bool fresh = ticks > 1 && trace_->at(ticks - 2, signal().node) != value;
  return fresh ? fresh_words(signal(), value) : state_words(signal(), value);
}

/// "at most lowest (0.6 m)".
std::string PieceWords::with_other(const std::string& being) const {
  if (!fact_->other) return being;
  const dsl::Signal& other = model_->signals[*fact_->other];
  return fmt::format("{} ({})", being, dsl::to_text(now(*fact_->other), other.sort));
}

std::string PieceWords::holding() const {
  if (!fact_) return text_ + " is true";
  if (fact_->other) return fmt::format("{}, which is {}", state(), with_other(fact_->being));
  const bool at_power_up = fact_->edge && trace_->ticks() == 1;
  return at_power_up ? state() + " from power-up on" : state();
}

std::string PieceWords::clause() const {
  if (!fact_) return text_ + " is true";
  if (fact_->edge) return event_words(signal(), fact_->target);
  return fmt::format("{} is {}", spoken_name(signal()), fact_->being);
}

std::string PieceWords::past() const {
  if (!fact_) return text_ + " was true";
  if (fact_->edge) return past_event_words(signal(), fact_->target);
  return fmt::format("{} was {}", spoken_name(signal()), fact_->being);
}

std::string PieceWords::lasting() const {
  if (!fact_ || fact_->edge) return text_ + " has been true";
  return fmt::format("{} has been {}", spoken_name(signal()), fact_->being);
}

std::string PieceWords::wish(const std::string& must) const {
  if (!fact_) return fmt::format("{} {} be true", text_, must);
  if (fact_->edge)
    return fmt::format("{} {} {}", spoken_name(signal()), must, verb_words(signal(), fact_->target));
  return fmt::format("{} {} be {}", spoken_name(signal()), must, with_other(fact_->being));
}

std::string PieceWords::ban(bool ever) const {
  if (!fact_ || fact_->opposite.empty()) return wish(ever ? "must never" : "must not");
  return fmt::format("{} must be {}{}", spoken_name(signal()), with_other(fact_->opposite),
                     ever ? " at all times" : "");
}

std::string PieceWords::instead() const {
  if (!fact_) return is_true_ ? "it is true" : "it is false";
  if (fact_->edge && !is_true_) return "it does not";
  return "it" + state().substr(spoken_name(signal()).size());
}

std::string PieceWords::named_instead() const {
  if (!fact_) return text_ + (is_true_ ? " is true" : " is false");
  const bool not_now = fact_->edge && !is_true_ && now(fact_->signal) == fact_->target;
  if (not_now && trace_->ticks() == 1) return state() + " from power-up on";
  if (not_now) return fmt::format("{} has been {} for longer", spoken_name(signal()), fact_->being);
  return state();
}

}  // namespace detent::cli
