#include "dsl/match.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <string_view>

#include "dsl/decimals.hpp"
#include "dsl/diagnostics.hpp"

namespace detent::dsl {
namespace {

constexpr std::string_view received = " received";

bool is_hand(const Signal& signal) {
  return signal.role == SignalRole::hand;
}

std::string kind_words(const Sort& sort) {
  switch (sort.kind) {
    case SortKind::condition:
      return "a condition";
    case SortKind::level:
      return sort.unit.empty() ? "a plain number" : fmt::format("a level in {}", sort.unit);
    case SortKind::position:
      return fmt::format("one of {}", fmt::join(sort.positions, ", "));
  }
  return "";
}

/// Both have the same positions, perhaps in another order.
bool same_positions(const Sort& one, const Sort& other) {
  const std::set<std::string> left(one.positions.begin(), one.positions.end());
  return left == std::set<std::string>(other.positions.begin(), other.positions.end());
}

/// Why two values can't be compared, or "".
std::string unlike_kinds(const Sort& a, const Sort& b) {
  const bool alike = a.kind == b.kind && (a.kind != SortKind::level || a.unit == b.unit) &&
                     (a.kind != SortKind::position || same_positions(a, b));
  return alike ? "" : fmt::format("is {} in A and {} in B", kind_words(a), kind_words(b));
}

std::string range_words(const CircuitInput& input, const Sort& sort) {
  return fmt::format("from {} to {} step {}", to_text(input.range.low, sort), to_text(input.range.high, sort),
                     to_text(input.step, sort));
}

/// Why two inputs can't be moved by one hand, or "".
std::string unlike_inputs(const Model& a, const Model& b, const Signal& one, const Signal& other) {
  if (one.element != other.element)
    return fmt::format("is a {} in A and a {} in B", one.element, other.element);
  if (std::string reason = unlike_kinds(one.sort, other.sort); !reason.empty()) return reason;
  if (one.sort.kind != SortKind::level) return "";
  const CircuitInput& left = a.circuit.inputs()[one.input];
  const CircuitInput& right = b.circuit.inputs()[other.input];
  const Value left_scale = power_of_ten(other.sort.decimals);
  const Value right_scale = power_of_ten(one.sort.decimals);
  const bool alike = left.range.low * left_scale == right.range.low * right_scale &&
                     left.range.high * left_scale == right.range.high * right_scale &&
                     left.step * left_scale == right.step * right_scale;
  return alike ? ""
               : fmt::format("goes {} in A and {} in B", range_words(left, one.sort),
                             range_words(right, other.sort));
}

std::optional<std::uint32_t> find_signal(const Model& model, const std::string& name) {
  for (std::uint32_t index = 0; index < model.signals.size(); ++index) {
    if (model.signals[index].name == name) return index;
  }
  return std::nullopt;
}

class Matcher {
 public:
  Matcher(const Model& a, const Model& b, const Renames& renames) : a_(a), b_(b), renames_(renames) {}

  std::variant<Match, MatchProblem> run() {
    check_ticks();
    check_renames();
    if (problem_) return *problem_;
    pair_all();
    if (problem_) return *problem_;
    return std::move(match_);
  }

 private:
  void complain(std::string message, std::string mend) {
    if (!problem_) problem_ = MatchProblem{std::move(message), std::move(mend)};
  }

  void check_ticks() {
    if (a_.tick_us != b_.tick_us) {
      complain(
          fmt::format("a tick is {} in A and {} in B", time_text(1, a_.tick_us), time_text(1, b_.tick_us)),
          "give both designs the same tick; else no moment of one is a moment of the other");
    }
  }

  void check_renames() {
    std::set<std::string> left, right;
    for (const auto& [one, other] : renames_) {
      check_name(a_, "A", one);
      check_name(b_, "B", other);
      if (!left.insert(one).second || !right.insert(other).second) {
        complain(fmt::format("'{}={}' names something that another --match names too", one, other),
                 "match each name once");
      }
    }
    for (const auto& [one, other] : renames_) {
      if (one == other) continue;
      check_one_meaning(b_, "B", one, right);
      check_one_meaning(a_, "A", other, left);
    }
  }

  // A name that both designs have must not mean two things: claims and conditions are asked of both by their
  // names.
  void check_one_meaning(const Model& model, const char* side, const std::string& name,
                         const std::set<std::string>& matched) {
    if (!find_signal(model, name) || matched.contains(name)) return;
    complain(fmt::format("after this --match '{}' would mean two things: {} has something else of that name",
                         name, side),
             fmt::format("match the '{}' of {} as well, or give it another name in its file", name, side));
  }

  void check_name(const Model& model, const char* side, const std::string& name) {
    if (find_signal(model, name)) return;
    std::vector<std::string> known;
    for (const Signal& signal : model.signals) known.push_back(signal.name);
    const std::string near = nearest_name(name, known);
    complain(fmt::format("no input or element of {} is called '{}'", side, name),
             near.empty() ? "detent show FILE signals lists them all; the name of A comes first: --match a=b"
                          : fmt::format("did you mean '{}'? The name of A comes first: --match a=b", near));
  }

  void pair_all() {
    std::set<std::string> taken;
    for (const auto& [one, other] : renames_) taken.insert(other);
    std::set<std::uint32_t> met;
    for (std::uint32_t index = 0; index < a_.signals.size(); ++index) {
      const std::string& name = a_.signals[index].name;
      const std::string wanted = name_in_b(name, renames_);
      const std::optional<std::uint32_t> other = find_signal(b_, wanted);
      if (!other || (wanted == name && taken.contains(name) && !is_renamed(name))) {
        match_.alone[side_a].push_back(index);
      } else {
        met.insert(*other);
        pair_up({index, *other}, wanted != name);
      }
    }
    for (std::uint32_t index = 0; index < b_.signals.size(); ++index) {
      if (!met.contains(index)) match_.alone[side_b].push_back(index);
    }
  }

  [[nodiscard]] bool is_renamed(const std::string& name) const {
    return std::any_of(renames_.begin(), renames_.end(), [&](const auto& one) { return one.first == name; });
  }

  void pair_up(const SignalPair& pair, bool asked) {
    const Signal& one = a_.signals[pair.a];
    const Signal& other = b_.signals[pair.b];
    const bool both_hands = is_hand(one) && is_hand(other);
    if (both_hands) {
      const std::string reason = unlike_inputs(a_, b_, one, other);
      if (!reason.empty()) {
        complain(
            fmt::format("{} {}", said(one, other), reason),
            "one hand can't move both: declare it alike in both designs, or give one of them another name, "
            "so that each is moved for itself");
      }
      match_.hands.push_back(pair);
      return;
    }
    const std::string reason =
        is_hand(one) || is_hand(other) ? where_computed(one) : unlike_kinds(one.sort, other.sort);
    const bool needed = asked || (one.role == SignalRole::output && other.role == SignalRole::output);
    if (reason.empty()) {
      match_.computed.push_back(pair);
    } else if (needed) {
      complain(fmt::format("{} {}", said(one, other), reason),
               "match what is of one kind, or give one of them another name");
    } else {
      match_.unlike.push_back({pair, reason});
    }
  }

  static std::string where_computed(const Signal& one) {
    return is_hand(one) ? "is an input in A and computed in B" : "is computed in A and an input in B";
  }

  static std::string said(const Signal& one, const Signal& other) {
    return one.name == other.name ? fmt::format("'{}'", one.name)
                                  : fmt::format("'{}' (in B: '{}')", one.name, other.name);
  }

  const Model& a_;
  const Model& b_;
  const Renames& renames_;
  Match match_;
  std::optional<MatchProblem> problem_;
};

}  // namespace

std::string name_in_b(const std::string& name, const Renames& renames) {
  for (const auto& [one, other] : renames) {
    if (name == one) return other;
    if (name == one + std::string(received)) return other + std::string(received);
  }
  return name;
}

std::variant<Match, MatchProblem> match_signals(const Model& a, const Model& b, const Renames& renames) {
  return Matcher(a, b, renames).run();
}

}  // namespace detent::dsl
