// How each alteration is made. A fault of an input changes what the design reads: every mention of the input
// in an element gives way to a reading, and no mention in a claim does. A fault of an element changes its
// body.
#include "dsl/alter.hpp"

#include <algorithm>
#include <utility>

#include "dsl/walk.hpp"

namespace detent::dsl {
namespace {

class Alter {
 public:
  Alter(Design& design, const Alteration& alteration) : design_(design), what_(alteration) {}

  void apply() {
    switch (what_.kind) {
      case AlterationKind::input_stuck:
        return read_instead(what_.element, fixed());
      case AlterationKind::bounces:
        return let_bounce();
      case AlterationKind::loss_unnoticed:
        return replace(TermOp::lost, what_.element, constant_term(0, {}, what_.place));
      case AlterationKind::keeps_last:
        return keep_last();
      case AlterationKind::always_lost:
        return lose();
      case AlterationKind::stuck:
        element().body = ValueBody{fixed()};
        return;
      case AlterationKind::inverted:
        return invert();
      case AlterationKind::time:
        *timers_of(element().body)[what_.part] = what_.value;
        design_.longest_time = std::max(design_.longest_time, what_.value);
        return;
      case AlterationKind::condition:
        *conditions_of(element().body)[what_.part].term = constant_term(what_.value, {}, what_.place);
        return;
      case AlterationKind::threshold:
        thresholds_of(element().body)[what_.part].constant->value = what_.value;
        return;
      case AlterationKind::other_start: {
        auto& latch = std::get<LatchBody>(element().body);
        latch.starting_on = !latch.starting_on;
        return;
      }
      case AlterationKind::other_winner: {
        auto& latch = std::get<LatchBody>(element().body);
        latch.set_wins = !latch.set_wins;
        return;
      }
      case AlterationKind::line_left_out: {
        auto& moves = std::get<StagesBody>(element().body).moves;
        moves.erase(moves.begin() + static_cast<std::ptrdiff_t>(what_.part));
        return;
      }
    }
  }

 private:
  Element& element() { return design_.elements[what_.element]; }
  Term fixed() { return constant_term(what_.value, element().type, what_.place); }

  // ---- readings ----
  void replace(TermOp op, std::size_t input, const Term& by) {
    for (Element& one : design_.elements) {
      for (Term* term : terms_of(one.body)) {
        substitute(*term, op, input, by);
      }
    }
  }

  /// An input is read through the link or, by hand(…), before it: both are the same wire here.
  void read_instead(std::size_t input, const Term& by) {
    replace(TermOp::reference, input, by);
    replace(TermOp::hand, input, by);
  }

  Element hidden(std::size_t like, ElementBody body) {
    return {.name = design_.elements[like].name + " as read",
            .doc = "",
            .keyword = "signal",
            .place = what_.place,
            .type = design_.elements[like].type,
            .hidden = true,
            .body = std::move(body)};
  }

  // For so many ticks from a change on, chance says in each of them whether the contact reads what it read
  // before the change.
  void let_bounce() {
    const Place& place = what_.place;
    const Term now = reference_term(design_, what_.element, place);
    Term before = condition_term(TermOp::previous, {now}, place);
    before.type = now.type;
    const Term same = condition_term(TermOp::equal, {now, before}, place);
    const Term changed = condition_term(
        TermOp::not_, {condition_term(TermOp::or_, {same, first_tick_term(place)}, place)}, place);
    const std::size_t old =
        insert_behind(design_, what_.element, hidden(what_.element, KeepBody{before, changed, 0}));
    const std::size_t chance = insert_behind(design_, what_.element, contact());
    const Term bouncing = condition_term(
        TermOp::equal,
        {reference_term(design_, chance, place), constant_term(1, design_.elements[chance].type, place)},
        place);
    const Term recent = condition_term(TermOp::recently, {changed}, place, what_.value - 1);
    Term reading = condition_term(
        TermOp::choose,
        {condition_term(TermOp::and_, {recent, bouncing}, place), reference_term(design_, old, place), now},
        place);
    reading.type = now.type;
    // Put in place of every mention first: the reading itself must see the contact as it is.
    const std::size_t read = design_.elements.size();
    Term mention = now;
    mention.element = read;
    for (std::size_t index = 0; index < design_.elements.size(); ++index) {
      if (index == old) {
        continue;
      }
      for (Term* term : terms_of(design_.elements[index].body)) {
        substitute(*term, TermOp::reference, what_.element, mention);
        substitute(*term, TermOp::hand, what_.element, mention);
      }
    }
    insert_behind(design_, old, hidden(what_.element, ValueBody{reading}));
  }

  /// A switch of chance, shown in runs.
  Element contact() {
    Element contact{.name = element().name + " contact",
                    .doc = "whether the contact reads as it did before the last change",
                    .keyword = "contact",
                    .place = what_.place,
                    .type = {.kind = SortKind::position, .owner = design_.elements.size()},
                    .positions = {"steady", "bounced"},
                    .body = SwitchBody{}};
    return contact;
  }

  /// Every input that the link carries.
  std::vector<std::size_t> carried() const {
    std::vector<std::size_t> inputs;
    for (std::size_t index = 0; index < design_.elements.size(); ++index) {
      const auto& carriage = design_.elements[index].carriage;
      if (carriage && carriage->link == what_.element) {
        inputs.push_back(index);
      }
    }
    return inputs;
  }

  Term hand_term(std::size_t input) const {
    Term term = reference_term(design_, input, what_.place);
    term.op = TermOp::hand;
    return term;
  }

  /// Reads the hand where `when` is true, and as before where it is not.
  void hold(std::size_t input, const Term& when) {
    const KeepBody body{hand_term(input), when, 0};
    const std::size_t read = insert_behind(design_, input, hidden(input, body));
    const Term mention = reference_term(design_, read, what_.place);
    replace(TermOp::reference, input, mention);
  }

  void keep_last() {
    Term lost = condition_term(TermOp::lost, {}, what_.place);
    lost.element = what_.element;
    const Term there = condition_term(TermOp::not_, {lost}, what_.place);
    for (const std::size_t input : carried()) {
      hold(input, condition_term(TermOp::or_, {there, first_tick_term(what_.place)}, what_.place));
    }
  }

  void lose() {
    for (const std::size_t input : carried()) {
      const auto& value = design_.elements[input].carriage->lost;
      if (value) {
        replace(TermOp::reference, input, constant_term(*value, design_.elements[input].type, what_.place));
      } else {
        hold(input, first_tick_term(what_.place));
      }
    }
    replace(TermOp::lost, what_.element, constant_term(1, {}, what_.place));
  }

  // ---- elements ----
  // What everybody sees of a condition, its own past included, is turned round; what makes it is not.
  void invert() {
    auto* value = std::get_if<ValueBody>(&element().body);
    if (value != nullptr && value->value.type.kind != SortKind::condition) {
      std::swap(value->value.operands[1], value->value.operands[2]);
      return;
    }
    Element maker = element();
    maker.name += " as made";
    maker.hidden = true;
    maker.output = false;
    const std::size_t made = insert_before(design_, what_.element, std::move(maker));
    element().body =
        ValueBody{condition_term(TermOp::not_, {reference_term(design_, made, what_.place)}, what_.place)};
  }

  Design& design_;
  const Alteration& what_;
};

bool is_of_a_link(const Alteration& one) {
  return one.kind == AlterationKind::loss_unnoticed || one.kind == AlterationKind::keeps_last ||
         one.kind == AlterationKind::always_lost;
}

}  // namespace

Design altered(const Design& design, const Alteration& alteration) {
  Design result = design;
  apply(result, {alteration});
  return result;
}

void apply(Design& design, std::vector<Alteration> alterations) {
  // A link's fault comes after those of what it carries, so that a reading looks at what arrives.
  std::stable_partition(alterations.begin(), alterations.end(),
                        [](const Alteration& one) { return !is_of_a_link(one); });
  for (const Alteration& one : alterations) {
    Alter(design, one).apply();
  }
}

}  // namespace detent::dsl
