// One sentence per form of claim. Forms that speak of time look back in the run for the moment from which the
// time counts; what cannot be found there is not said.
#include "cli/breakage.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "cli/relevance.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::ClaimForm;
using dsl::NodeId;
using dsl::Piece;
using dsl::Value;
using solver::Trace;

/// The claim at its last tick, with the questions that the sentences ask of it.
struct Break {
  const dsl::Model& model;
  const dsl::Claim& claim;
  const Trace& trace;

  [[nodiscard]] Value last() const { return static_cast<Value>(trace.ticks()) - 1; }
  [[nodiscard]] Value limit() const { return claim.duration.value_or(0); }
  [[nodiscard]] bool at(Value tick, const Piece& piece) const {
    return trace.at(static_cast<std::size_t>(tick), piece.node) != 0;
  }
  [[nodiscard]] const Piece& p() const { return claim.first; }
  [[nodiscard]] const Piece& q() const { return claim.second ? *claim.second : claim.first; }
  [[nodiscard]] std::string time(Value ticks) const { return dsl::time_text(ticks, model.tick_us); }
  [[nodiscard]] std::string moment(Value tick) const {
    return fmt::format("{} s (tick {})", seconds_number(tick, model.tick_us), tick);
  }
};

std::string quoted(const Piece& piece) {
  return fmt::format("'{}'", piece.text);
}

/// The latest tick, at or before `from`, where the piece has this value.
std::optional<Value> latest(const Break& at, const Piece& piece, bool value, Value from) {
  for (Value tick = from; tick >= 0; --tick) {
    if (at.at(tick, piece) == value) return tick;
  }
  return std::nullopt;
}

/// The tick since which the piece has been true on end, counted back from `from`.
Value true_since(const Break& at, const Piece& piece, Value from) {
  const std::optional<Value> off = latest(at, piece, false, from);
  return off ? *off + 1 : 0;
}

// ---- What the claim wanted, one function a form ----

std::string always_words(const Break& at) {
  return fmt::format("{} must be true at all times, but it is false", quoted(at.p()));
}

std::string never_words(const Break& at) {
  return fmt::format("{} must never be true, but it is", quoted(at.p()));
}

std::string never_while_words(const Break& at) {
  return fmt::format("{} must not be true while {} is true, but now both are", quoted(at.p()),
                     quoted(at.q()));
}

std::string whenever_words(const Break& at) {
  return fmt::format("{} is true, so {} must be true too, but it is false", quoted(at.p()), quoted(at.q()));
}

std::string whenever_within_words(const Break& at) {
  const std::optional<Value> start = latest(at, at.p(), true, at.last() - at.limit());
  if (!start) return fmt::format("{} has not come true in time", quoted(at.q()));
  return fmt::format("{} was true at {}, so {} had to be true within {}, but it has been false ever since",
                     quoted(at.p()), at.moment(*start), quoted(at.q()), at.time(at.limit()));
}

std::string whenever_for_words(const Break& at) {
  const std::optional<Value> start = latest(at, at.p(), true, at.last());
  const std::string length = at.time(at.limit());
  if (!start) return fmt::format("{} is not true for {}", quoted(at.q()), length);
  if (*start == at.last()) {
    return fmt::format("{} is true, so {} must be true from now on for {}, but it is false", quoted(at.p()),
                       quoted(at.q()), length);
  }
  return fmt::format("{} was true at {}, so {} had to be true from then on for {}, but it is false {} later",
                     quoted(at.p()), at.moment(*start), quoted(at.q()), length, at.time(at.last() - *start));
}

std::string only_within_words(const Break& at) {
  const std::string wish = fmt::format("{} is true, which is allowed only within {} after {}", quoted(at.p()),
                                       at.time(at.limit()), quoted(at.q()));
  const std::optional<Value> start = latest(at, at.q(), true, at.last());
  if (!start) return wish + ", and that has not been true at all so far";
  return fmt::format("{}; that was last true at {}, which is {} ago", wish, at.moment(*start),
                     at.time(at.last() - *start));
}

std::string only_after_words(const Break& at) {
  return fmt::format("{} is true, which is allowed only after {}, and that has not been true so far",
                     quoted(at.p()), quoted(at.q()));
}

std::string only_while_words(const Break& at) {
  return fmt::format("{} is true, which is allowed only while {} is true, but that is false", quoted(at.p()),
                     quoted(at.q()));
}

std::string lasts_at_least_words(const Break& at) {
  const Value start = at.last() > 0 ? true_since(at, at.p(), at.last() - 1) : 0;
  return fmt::format("{} came true at {} and is false again after {}; it had to last at least {}",
                     quoted(at.p()), at.moment(start), at.time(at.last() - start), at.time(at.limit()));
}

std::string lasts_at_most_words(const Break& at) {
  const Value start = true_since(at, at.p(), at.last());
  return fmt::format("{} came true at {} and is still true, now for longer than the {} allowed",
                     quoted(at.p()), at.moment(start), at.time(at.limit()));
}

std::string wish_words(const Break& at) {
  switch (at.claim.form) {
    case ClaimForm::always:
      return always_words(at);
    case ClaimForm::never:
      return never_words(at);
    case ClaimForm::never_while:
      return never_while_words(at);
    case ClaimForm::whenever:
      return whenever_words(at);
    case ClaimForm::whenever_within:
      return whenever_within_words(at);
    case ClaimForm::whenever_for:
      return whenever_for_words(at);
    case ClaimForm::only_within:
      return only_within_words(at);
    case ClaimForm::only_after:
      return only_after_words(at);
    case ClaimForm::only_while:
      return only_while_words(at);
    case ClaimForm::lasts_at_least:
      return lasts_at_least_words(at);
    case ClaimForm::lasts_at_most:
      return lasts_at_most_words(at);
    case ClaimForm::possible:
    case ClaimForm::possible_within:
      break;
  }
  return "";
}

/// What the named signals are at the last tick; those that have just changed say so.
std::string evidence_words(const Break& at) {
  constexpr std::size_t most = 6;
  std::vector<std::string> items;
  const auto last = static_cast<std::size_t>(at.last());
  for (const std::uint32_t index : mentioned(at.model, at.trace, at.claim)) {
    const dsl::Signal& signal = at.model.signals[index];
    const Value value = at.trace.at(last, signal.node);
    const bool fresh = last > 0 && at.trace.at(last - 1, signal.node) != value;
    items.push_back(fresh ? fresh_words(signal, value) : state_words(signal, value));
  }
  return items.empty() ? "" : fmt::format(" ({})", list_words(items, most));
}

std::string possible_words(const Break& at) {
  std::string words =
      fmt::format("This run does it: {} is true {} after power-up", quoted(at.p()), at.time(at.last()));
  if (at.claim.within) words += fmt::format(", within the {} asked for", at.time(*at.claim.within));
  return words;
}

}  // namespace

std::string break_words(const dsl::Model& model, const dsl::Claim& claim, const Trace& trace) {
  const Break at{model, claim, trace};
  const std::string words =
      claim.possible ? possible_words(at) : fmt::format("Here the claim breaks: {}", wish_words(at));
  return fmt::format("{}{}.", words, evidence_words(at));
}

}  // namespace detent::cli
