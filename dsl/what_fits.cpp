#include "dsl/what_fits.hpp"

#include <algorithm>
#include <initializer_list>
#include <string_view>
#include <utility>

#include "dsl/fitting_words.hpp"
#include "dsl/grammar/words.hpp"
#include "dsl/loose_tokens.hpp"
#include "dsl/units.hpp"
#include "dsl/writing_place.hpp"

namespace detent::dsl {
namespace {

using Kind = LooseToken::Kind;

bool is_any(std::string_view text, std::initializer_list<std::string_view> words) {
  return std::find(words.begin(), words.end(), text) != words.end();
}

class Fitter {
 public:
  Fitter(const NameIndex& names, std::uint32_t file, std::uint32_t offset)
      : names_(names), part_(names.part_at(file, offset)) {}

  WhatFits run(std::string_view before) {
    WritingPlace place = writing_place(before);
    fits_.begin = place.begin;
    if (place.nothing_fits) return fits_;
    if (const std::size_t dot = place.partial.rfind('.'); dot != std::string_view::npos) {
      fits_.begin += static_cast<std::uint32_t>(dot + 1);
      offer_inside(std::string(place.partial.substr(0, dot)));
      return fits_;
    }
    tokens_ = std::move(place.tokens);
    new_line_ = place.new_line;
    choose();
    return fits_;
  }

 private:
  [[nodiscard]] std::string_view head() const { return tokens_.front().text; }
  /// The token so many before the place; an empty one where there is none.
  [[nodiscard]] LooseToken back(std::size_t count) const {
    return count <= tokens_.size() ? tokens_[tokens_.size() - count] : LooseToken{};
  }
  [[nodiscard]] bool has(std::string_view word) const {
    return std::any_of(tokens_.begin(), tokens_.end(),
                       [&](const LooseToken& one) { return one.text == word; });
  }

  void choose() {
    if (tokens_.empty()) return offer_declarations();
    const LooseToken last = back(1);
    if (last.kind == Kind::number && !new_line_) offer_units();
    if (tokens_.size() == 1) return choose_after_head();
    if (choose_special(last.text)) return;
    if (awaits_operand(last)) return offer_operands(last.text);
    if (new_line_) offer_declarations();
    offer_words(words_after_operand());
    offer_rest_of_declaration();
  }

  void choose_after_head() {
    if (head() == "power_up") offer_words({"edges"});
    if (head() == "at") offer_words({"power_up"});
    if (head() == "at" || !new_line_) return;
    offer_declarations();
  }

  /// Places where only a few things can stand.
  bool choose_special(std::string_view last) {
    const std::string_view before = back(2).text;
    const bool names_positions = (head() == "switch" || head() == "stages") && !has("->") && !new_line_;
    if (names_positions && (last == "is" || last == "|")) return true;
    if (last == "is" || (last == "not" && before == "is")) {
      offer_positions_of(value_before(last == "is" ? 2 : 3));
      if (last == "is") offer_words({"not"});
    } else if (head() == "stages" && (last == "->" || (new_line_ && has("is")))) {
      offer_stages();
      if (last != "->") offer_words({"any", "after", "when"});
      if (last != "->") offer_declarations();
    } else if (last == "edges") {
      offer_words({"counted", "ignored", "either"});
    } else if (head() == "link" && (last == ":" || last == "," || last == "carries" || has("lost"))) {
      offer_in_link(last);
    } else if (head() == "part" && (last == "(" || last == ",")) {
      offer_words({"condition", "level", "count", "duration"});
    } else if (head() == "use" && last == "=") {
      offer_names([](const NamedThing& thing) { return thing.sort == NameSort::part; });
    } else if (head() == "latch" && last == "starting") {
      offer_words({"on", "off"});
    } else if (is_any(last, {"only"})) {
      offer_words({"within", "after", "while"});
    } else if (is_any(last, {"lasts", "moving"})) {
      offer_words({"at"});
    } else if (last == "at") {
      offer_words(head() == "channel" ? std::vector<std::string_view>{"most"}
                                      : std::vector<std::string_view>{"least", "most"});
    } else if (last == "per") {
      for (const std::string& unit : all_units()) {
        if (is_time_unit(unit)) fits_.all.push_back({unit, FittingSort::unit});
      }
    } else if (is_any(last, {"for", "within", "least", "most"}) || (last == "after" && head() == "stages")) {
      offer_names([](const NamedThing& thing) {
        return thing.sort == NameSort::tunable ||
               (thing.sort == NameSort::parameter && thing.keyword == "duration");
      });
    } else {
      return false;
    }
    return true;
  }

  /// As they stand in the declaration itself, which may not be readable as a whole yet.
  void offer_stages() {
    for (std::size_t at = 3; at < tokens_.size() && tokens_[at].kind == Kind::word; at += 2) {
      fits_.all.push_back({std::string(tokens_[at].text), FittingSort::position});
      if (at + 1 < tokens_.size() && tokens_[at + 1].text != "|") break;
    }
  }

  void offer_in_link(std::string_view last) {
    const bool lost = has("lost");
    if (last == "carries" || (last == "," && !lost)) {
      offer_names([](const NamedThing& thing) {
        return is_any(thing.keyword, {"channel", "switch", "button"});
      });
    } else if (last == ":" || last == ",") {
      if (last == ":") offer_words({"as before"});
      offer_names([&](const NamedThing& thing) { return has(thing.name); });
    } else {
      offer_positions_of(names_.find(part_, std::string(last)));
    }
  }

  void offer_operands(std::string_view last) {
    const bool claims = (head() == "claim" || head() == "assume") && last == ":" && !has("whenever");
    if (claims) offer_words({"always", "never", "whenever"});
    if (claims && head() == "claim") offer_words({"possible"});
    if (is_any(last, {"==", "!="})) offer_positions_of(value_before(2), false);
    if (last == "starting")
      offer_positions_of(value_before(head() == "keep" ? tokens_.size() - 3 : 3), false);
    offer_names(
        [](const NamedThing& thing) { return thing.sort != NameSort::part && thing.keyword != "link"; });
    if (!is_any(last, {"==", "!=", "<", "<=", ">", ">=", "+", "-", "*"})) {
      offer_names([](const NamedThing& thing) { return thing.keyword == "link"; });
      offer_words({"not", "if", "true", "false"});
    }
    for (const std::string_view word : grammar::call_words) {
      fits_.all.push_back({std::string(word), FittingSort::function});
    }
  }

  /// What the value that ends so many tokens before the place is called: the name itself, or that in the
  /// brackets of `previous(…)` or `hand(…)`.
  [[nodiscard]] std::size_t value_before(std::size_t count) const {
    if (count > tokens_.size()) return no_thing;
    std::size_t at = tokens_.size() - count;
    if (tokens_[at].text == ")") {
      int open = 0;
      do {
        open += tokens_[at].text == ")" ? 1 : tokens_[at].text == "(" ? -1 : 0;
      } while (open > 0 && at-- > 0);
      ++at;
    }
    return at < tokens_.size() ? names_.find(part_, std::string(tokens_[at].text)) : no_thing;
  }

  // ---- offers ----
  void offer_words(std::span<const std::string_view> words) {
    for (const std::string_view word : words) fits_.all.push_back({std::string(word), FittingSort::word});
  }

  void offer_words(std::initializer_list<std::string_view> words) {
    offer_words(std::span(words.begin(), words.size()));
  }

  void offer_declarations() {
    for (const std::string_view word : grammar::declaration_words) {
      if (part_ == no_thing || may_begin_in_part(word)) offer_words({word});
    }
    if (part_ != no_thing) offer_words({"end"});
  }

  void offer_rest_of_declaration() {
    for (const std::string_view word : words_within(head())) {
      if (!has(word)) offer_words({word});
    }
  }

  void offer_units() {
    for (const std::string& unit : all_units()) fits_.all.push_back({unit, FittingSort::unit});
  }

  template <class Wanted>
  void offer_names(Wanted wanted) {
    for (const std::size_t thing : names_.seen_in(part_)) {
      if (!wanted(names_.things[thing])) continue;
      fits_.all.push_back({names_.things[thing].name, FittingSort::name, thing});
    }
  }

  void offer_inside(const std::string& use) {
    const std::size_t part = names_.part_used(names_.find(part_, use));
    if (part == no_thing) return;
    for (const std::size_t thing : names_.offered_by(part)) {
      fits_.all.push_back({names_.things[thing].name, FittingSort::name, thing});
    }
  }

  void offer_positions_of(std::size_t thing, bool words_too = true) {
    if (thing == no_thing) return;
    for (const std::size_t position : names_.positions_of(whose_positions(names_, thing))) {
      fits_.all.push_back({names_.things[position].name, FittingSort::position, position});
    }
    if (words_too && names_.things[thing].keyword == "button") offer_words({"pressed", "released"});
    if (words_too && names_.things[thing].keyword == "link") offer_words({"lost"});
  }

  const NameIndex& names_;
  std::size_t part_;
  std::vector<LooseToken> tokens_;  ///< of the declaration that is being written
  bool new_line_ = false;           ///< nothing else stands before it on its line
  WhatFits fits_;
};

}  // namespace

WhatFits what_fits(const NameIndex& names, const Sources& sources, std::uint32_t file, std::uint32_t offset) {
  return Fitter(names, file, offset).run(sources.text(file).substr(0, offset));
}

}  // namespace detent::dsl
