// A formula's truth at all ticks of a row is one word of bits, bit n for tick n. The row is made a good deal
// longer than it is by its last letter; behind its end nothing changes any more (bounds are short), so its
// last tick stands for all that follow: what is true there is true for ever.
//
// For bad beginnings see tests/support/formula_oracle.cpp, which does the same for the claim forms.
#include "tests/support/temporal.hpp"

#include <algorithm>
#include <array>
#include <set>
#include <stdexcept>

namespace detent::test {
namespace {

using Bits = std::uint64_t;
constexpr int last = 20;  // the tick that stands for all later ones

bool at(Bits bits, int tick) {
  return ((bits >> std::min(tick, last)) & 1U) != 0;
}

template <typename Truth>
Bits each_tick(Truth truth) {
  Bits bits = 0;
  for (int tick = 0; tick <= last; ++tick) bits |= Bits{truth(tick)} << tick;
  return bits;
}

}  // namespace

struct TemporalFormula::Node {
  enum class Kind { letter, not_, and_, or_, implies, next, before, always, finally, once, until, weak };
  Kind kind = Kind::letter;
  char letter = 0;
  bool bounded = false;
  int low = 0, high = 0;
  std::unique_ptr<Node> left = {}, right = {};

  [[nodiscard]] Bits truth(const std::array<Bits, 26>& row) const;
};

namespace {

using Node = TemporalFormula::Node;
using Kind = Node::Kind;

/// From the end backwards: a W b, or a U b where `weak` is false.
Bits until(Bits a, Bits b, bool weak) {
  bool later = weak && at(a, last);
  Bits bits = 0;
  for (int tick = last; tick >= 0; --tick) {
    later = at(b, tick) || (at(a, tick) && later);
    bits |= Bits{later} << tick;
  }
  return bits;
}

/// a U[low,high] b.
Bits until_within(Bits a, Bits b, int low, int high) {
  return each_tick([=](int tick) {
    for (int ahead = 0; ahead <= high; ++ahead) {
      if (ahead >= low && at(b, tick + ahead)) return true;
      if (!at(a, tick + ahead)) return false;
    }
    return false;
  });
}

Bits once_within(Bits a, int low, int high) {
  return each_tick([=](int tick) {
    for (int ago = low; ago <= high && ago <= tick; ++ago) {
      if (at(a, tick - ago)) return true;
    }
    return false;
  });
}

constexpr Bits everywhere = ~Bits{0};

/// The formula's text, letter by letter.
class Reader {
 public:
  Reader(std::string text, int ticks) : text_(std::move(text)), ticks_(ticks) {}

  std::unique_ptr<Node> whole() {
    auto node = implication();
    if (!rest().empty()) fail("nothing more");
    return node;
  }

 private:
  std::string_view rest() {
    while (place_ < text_.size() && text_[place_] == ' ') ++place_;
    return std::string_view(text_).substr(place_);
  }
  bool take(std::string_view word) {
    if (!rest().starts_with(word)) return false;
    place_ += word.size();
    return true;
  }
  [[noreturn]] void fail(const std::string& wanted) {
    throw std::runtime_error(text_ + ": expected " + wanted + " before '" + std::string(rest()) + "'");
  }
  static std::unique_ptr<Node> two(Kind kind, std::unique_ptr<Node> left, std::unique_ptr<Node> right) {
    auto node = std::make_unique<Node>();
    node->kind = kind;
    node->left = std::move(left);
    node->right = std::move(right);
    return node;
  }
  std::unique_ptr<Node> implication() {
    auto left = disjunction();
    return take("→") ? two(Kind::implies, std::move(left), implication()) : std::move(left);
  }
  std::unique_ptr<Node> disjunction() {
    auto left = conjunction();
    while (take("∨")) left = two(Kind::or_, std::move(left), conjunction());
    return left;
  }
  std::unique_ptr<Node> conjunction() {
    auto left = until_chain();
    while (take("∧")) left = two(Kind::and_, std::move(left), until_chain());
    return left;
  }
  std::unique_ptr<Node> until_chain() {
    auto left = unary();
    for (const auto& [word, kind] : {std::pair{"U", Kind::until}, std::pair{"W", Kind::weak}}) {
      if (!take(word)) continue;
      auto node = two(kind, std::move(left), nullptr);
      bounds(*node);
      node->right = unary();
      return node;
    }
    return left;
  }
  std::unique_ptr<Node> unary() {
    if (take("(")) {
      auto inner = implication();
      if (!take(")")) fail("')'");
      return inner;
    }
    for (const auto& [word, kind] :
         {std::pair{"¬", Kind::not_}, std::pair{"X", Kind::next}, std::pair{"Y", Kind::before},
          std::pair{"G", Kind::always}, std::pair{"F", Kind::finally}, std::pair{"O", Kind::once}}) {
      if (!take(word)) continue;
      auto node = two(kind, nullptr, nullptr);
      bounds(*node);
      node->left = unary();
      return node;
    }
    const char letter = rest().empty() ? ' ' : rest().front();
    if (letter < 'A' || letter > 'Z') fail("a formula");
    ++place_;
    auto node = std::make_unique<Node>();
    node->letter = letter;
    return node;
  }
  void bounds(Node& node) {
    if (!take("[")) return;
    node.bounded = true;
    node.low = bound();
    if (!take(",")) fail("','");
    node.high = bound();
    if (!take("]")) fail("']'");
  }
  int bound() {
    int value = 0;
    if (take("T")) {
      value = ticks_;
      if (take("-")) value -= number();
      return value;
    }
    return number();
  }
  int number() {
    if (rest().empty() || rest().front() < '0' || rest().front() > '9') fail("a number");
    return text_[place_++] - '0';
  }

  std::string text_;
  int ticks_;
  std::size_t place_ = 0;
};

void collect(const Node& node, std::set<char>& letters) {
  if (node.kind == Kind::letter) letters.insert(node.letter);
  if (node.left) collect(*node.left, letters);
  if (node.right) collect(*node.right, letters);
}

}  // namespace

Bits TemporalFormula::Node::truth(const std::array<Bits, 26>& row) const {
  if (kind == Kind::letter) return row[static_cast<std::size_t>(letter - 'A')];
  const Bits a = left->truth(row);
  const Bits b = right ? right->truth(row) : 0;
  switch (kind) {
    case Kind::letter:
      break;
    case Kind::not_:
      return ~a;
    case Kind::and_:
      return a & b;
    case Kind::or_:
      return a | b;
    case Kind::implies:
      return ~a | b;
    case Kind::next:
      return each_tick([a](int tick) { return at(a, tick + 1); });
    case Kind::before:
      return each_tick([a](int tick) { return tick > 0 && at(a, tick - 1); });
    case Kind::always:
      return bounded ? ~until_within(everywhere, ~a, low, high) : until(a, 0, true);
    case Kind::finally:
      return bounded ? until_within(everywhere, a, low, high) : until(everywhere, a, false);
    case Kind::once:
      return once_within(a, low, bounded ? high : last);
    case Kind::until:
      return bounded ? until_within(a, b, low, high) : until(a, b, false);
    case Kind::weak:
      return until(a, b, true);
  }
  return 0;
}

TemporalFormula::TemporalFormula(const std::string& text, int ticks) : root_(Reader(text, ticks).whole()) {
  std::set<char> letters;
  collect(*root_, letters);
  letters_.assign(letters.begin(), letters.end());
}

TemporalFormula::~TemporalFormula() = default;
TemporalFormula::TemporalFormula(TemporalFormula&&) noexcept = default;

bool TemporalFormula::holds(const std::vector<std::uint32_t>& row) const {
  std::array<Bits, 26> bits{};
  for (std::size_t index = 0; index < letters_.size(); ++index) {
    Bits& one = bits[static_cast<std::size_t>(letters_[index] - 'A')];
    for (std::size_t tick = 0; tick < row.size(); ++tick) one |= Bits{(row[tick] >> index) & 1U} << tick;
    if (((row.back() >> index) & 1U) != 0) one |= everywhere << row.size();
  }
  return (root_->truth(bits) & 1U) != 0;
}

bool TemporalFormula::is_lost(const std::vector<std::uint32_t>& row) const {
  const std::uint32_t masks = 1U << letters_.size();
  std::vector<std::uint32_t> longer = row;
  longer.resize(row.size() + 2);
  const std::uint32_t pairs = masks * masks;
  for (std::uint32_t tried = 0; tried < pairs; ++tried) {
    const std::uint32_t both = (last_good_ + tried) % pairs;
    longer[row.size()] = both / masks;
    longer[row.size() + 1] = both % masks;
    if (!holds(longer)) continue;
    last_good_ = both;
    return false;
  }
  return true;
}

}  // namespace detent::test
