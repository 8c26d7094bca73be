// One sentence per form of claim. Forms that speak of time look back in the run for the moment from which the
// time counts; what cannot be found there is not said.
#include "cli/breakage.hpp"

#include <fmt/format.h>

#include <cctype>
#include <optional>
#include <vector>

#include "cli/piece_words.hpp"
#include "cli/relevance.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::ClaimForm;
using dsl::Piece;
using dsl::Value;
using solver::Trace;

/// The claim at its last tick, with the questions that the sentences ask of it.
struct Break {
  Break(const dsl::Model& of, const dsl::Claim& broken, const Trace& run)
      : model(of),
        claim(broken),
        trace(run),
        p(of, run, broken.first),
        q(of, run, broken.second ? *broken.second : broken.first) {}

  const dsl::Model& model;
  const dsl::Claim& claim;
  const Trace& trace;
  PieceWords p, q;

  [[nodiscard]] Value last() const { return static_cast<Value>(trace.ticks()) - 1; }
  [[nodiscard]] Value limit() const { return claim.duration.value_or(0); }
  [[nodiscard]] const Piece& first() const { return claim.first; }
  [[nodiscard]] const Piece& second() const { return claim.second ? *claim.second : claim.first; }
  [[nodiscard]] bool at(Value tick, const Piece& piece) const {
    return trace.at(static_cast<std::size_t>(tick), piece.node) != 0;
  }
  [[nodiscard]] std::string time(Value ticks) const { return seconds_words(ticks, model.tick_us); }
  [[nodiscard]] std::string moment(Value tick) const { return fmt::format("{} (tick {})", time(tick), tick); }
};

/// The name behind the last of these words in the claim, where a name stands there alone: "patience".
std::string name_behind(const std::string& text, const std::string& words) {
  const std::size_t at = text.rfind(words);
  if (at == std::string::npos) return "";
  const std::size_t begin = at + words.size();
  const auto is_letter = [](unsigned char letter) { return std::isalnum(letter) != 0 || letter == '_'; };
  std::size_t end = begin;
  while (end < text.size() && is_letter(static_cast<unsigned char>(text[end]))) ++end;
  const bool is_name = end > begin && std::isdigit(static_cast<unsigned char>(text[begin])) == 0;
  const bool alone = end == text.size() || text.compare(end, 7, " after ") == 0;
  return is_name && alone ? text.substr(begin, end - begin) : "";
}

/// The claim's duration, by its name too if it has one: "patience (3 s)".
std::string length_words(const Break& at, Value ticks) {
  for (const char* words : {" within ", " for ", " at least ", " at most "}) {
    const std::string name = name_behind(at.claim.text, words);
    if (!name.empty()) return fmt::format("{} ({})", name, at.time(ticks));
  }
  return at.time(ticks);
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
  return fmt::format("{} at all times, but {}", at.p.wish("must"), at.p.instead());
}

std::string never_words(const Break& at) {
  return fmt::format("{}, but {}", at.p.ban(true), at.p.instead());
}

std::string never_while_words(const Break& at) {
  return fmt::format("{} while {}, but {}", at.p.ban(false), at.q.clause(), at.p.instead());
}

std::string whenever_words(const Break& at) {
  return fmt::format("{}, so {}, but {}", at.p.holding(), at.q.wish("must"), at.q.instead());
}

std::string whenever_within_words(const Break& at) {
  const std::optional<Value> start = latest(at, at.first(), true, at.last() - at.limit());
  if (!start) return fmt::format("{}, but not in time", at.q.wish("had to"));
  return fmt::format("at {} {}, so {} within {}, but that has not happened", at.moment(*start), at.p.past(),
                     at.q.wish("had to"), length_words(at, at.limit()));
}

std::string whenever_for_words(const Break& at) {
  const std::optional<Value> start = latest(at, at.first(), true, at.last());
  const std::string length = length_words(at, at.limit());
  if (!start) return fmt::format("{} for {}, but {}", at.q.wish("had to"), length, at.q.instead());
  if (*start == at.last()) {
    return fmt::format("{}, so {} from now on for {}, but {}", at.p.holding(), at.q.wish("must"), length,
                       at.q.instead());
  }
  return fmt::format("at {} {}, so {} from then on for {}, but {}, {} later", at.moment(*start), at.p.past(),
                     at.q.wish("had to"), length, at.q.instead(), at.time(at.last() - *start));
}

std::string only_within_words(const Break& at) {
  const std::string wish = fmt::format("{}, which is allowed only within {} after {}", at.p.holding(),
                                       length_words(at, at.limit()), at.q.clause());
  const std::optional<Value> start = latest(at, at.second(), true, at.last());
  if (!start) return wish + ", and that has not happened so far";
  return fmt::format("{}; that was last so at {}, which is {} ago", wish, at.moment(*start),
                     at.time(at.last() - *start));
}

std::string only_after_words(const Break& at) {
  return fmt::format("{}, which is allowed only after {}, and that has not happened so far", at.p.holding(),
                     at.q.clause());
}

std::string only_while_words(const Break& at) {
  const bool edge = at.q.fact() && at.q.fact()->edge;
  return fmt::format("{}, which is allowed only {} {}, but {}", at.p.holding(),
                     edge ? "in the moment in which" : "while", at.q.clause(), at.q.named_instead());
}

std::string lasts_at_least_words(const Break& at) {
  const Value start = at.last() > 0 ? true_since(at, at.first(), at.last() - 1) : 0;
  return fmt::format("from {} on {}, but after {} that is over; it had to last at least {}", at.moment(start),
                     at.p.past(), at.time(at.last() - start), length_words(at, at.limit()));
}

std::string lasts_at_most_words(const Break& at) {
  const Value start = true_since(at, at.first(), at.last());
  return fmt::format("{} since {}, now for longer than the {} allowed", at.p.lasting(), at.moment(start),
                     length_words(at, at.limit()));
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

/// Whether the sentence has already said what the signal is.
bool is_said(const Break& at, std::uint32_t signal) {
  const auto says = [signal](const PieceWords& words) {
    const std::optional<Fact>& fact = words.fact();
    return fact && (fact->signal == signal || fact->other == signal);
  };
  return says(at.p) || says(at.q);
}

/// What the other signals that the claim names are in the last tick; those that have just changed say so.
std::string evidence_words(const Break& at) {
  constexpr std::size_t most = 6;
  std::vector<std::string> items;
  const auto last = static_cast<std::size_t>(at.last());
  for (const std::uint32_t index : mentioned(at.model, at.trace, at.claim)) {
    if (is_said(at, index)) continue;
    const dsl::Signal& signal = at.model.signals[index];
    const Value value = at.trace.at(last, signal.node);
    const bool fresh = last > 0 && at.trace.at(last - 1, signal.node) != value;
    items.push_back(fresh ? fresh_words(signal, value) : state_words(signal, value));
  }
  return items.empty() ? "" : fmt::format(" ({})", list_words(items, most));
}

std::string possible_words(const Break& at) {
  std::string words =
      fmt::format("This run does it: {}, {} after power-up", at.p.holding(), at.time(at.last()));
  if (at.claim.within) {
    words += fmt::format(", within the {} asked for", length_words(at, *at.claim.within));
  }
  return words;
}

}  // namespace

std::string break_words(const dsl::Model& model, const dsl::Claim& claim, const Trace& trace) {
  const Break at(model, claim, trace);
  const std::string words =
      claim.possible ? possible_words(at) : fmt::format("Here the claim breaks: {}", wish_words(at));
  return fmt::format("{}{}.", words, evidence_words(at));
}

}  // namespace detent::cli
