#include "dsl/position_word.hpp"

#include "dsl/loose_tokens.hpp"

namespace detent::dsl {

/// The last word behind the operand: brackets round the comparison may follow, and comments.
Place place_of_position(const Expr& comparison, const Sources& sources) {
  Place behind = comparison.place;
  behind.begin = comparison.operands[0].place.end;
  Place found = comparison.place;
  for (const LooseToken& token : loose_tokens(sources.text(behind))) {
    if (token.kind != LooseToken::Kind::word) continue;
    found.begin = behind.begin + token.begin;
    found.end = behind.begin + token.end;
  }
  return found;
}

}  // namespace detent::dsl
