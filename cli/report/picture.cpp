// An element reads what its expressions name. What a link carries is drawn twice, as the hand moves it and as
// it arrives: a claim may speak of either, and in a run they differ.
#include "cli/report/picture.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>
#include <set>

#include "cli/page.hpp"
#include "dsl/walk.hpp"

namespace detent::cli::report {
namespace {

using dsl::Element;
using dsl::Term;
using dsl::TermOp;

/// What stands under an element's name, besides its keyword.
struct Detail {
  const Element& element;
  std::int64_t tick_us;
  std::string operator()(const dsl::PulseBody& body) const { return dsl::time_text(body.ticks, tick_us); }
  std::string operator()(const dsl::DelayBody& body) const { return dsl::time_text(body.ticks, tick_us); }
  std::string operator()(const dsl::LingerBody& body) const { return dsl::time_text(body.ticks, tick_us); }
  std::string operator()(const dsl::SwitchBody&) const { return positions(); }
  std::string operator()(const dsl::StagesBody&) const { return positions(); }
  std::string operator()(const dsl::ChannelBody& body) const { return range(body.range); }
  std::string operator()(const dsl::CounterBody& body) const { return range(body.range); }
  template <class Other>
  std::string operator()(const Other&) const {
    return "";
  }

 private:
  [[nodiscard]] std::string positions() const {
    return element.positions.size() <= 4 ? fmt::format("{}", fmt::join(element.positions, " | "))
                                         : fmt::format("{} positions", element.positions.size());
  }
  [[nodiscard]] std::string range(const dsl::Range& range) const {
    const dsl::Sort sort{.kind = dsl::SortKind::level, .unit = "", .decimals = element.type.decimals};
    return fmt::format("{} … {}{}", dsl::to_text(range.low, sort), dsl::to_text(range.high, sort),
                       element.type.unit.empty() ? "" : " " + element.type.unit);
  }
};

double width_of(std::size_t letters, double each) {
  return static_cast<double>(letters) * each;
}

class Drafting {
 public:
  Drafting(const dsl::Compiled& compiled, std::size_t most)
      : compiled_(compiled), design_(*compiled.design), model_(*compiled.model), most_(most) {
    for (std::uint32_t index = 0; index < model_.signals.size(); ++index) {
      by_name_.emplace(model_.signals[index].name, index);
    }
  }

  Picture make() {
    for (std::size_t index = 0; index < design_.elements.size(); ++index) add_nodes(index);
    if (picture_.nodes.size() > most_) {
      picture_.why_not = fmt::format(
          "This design has {} inputs, elements and outputs, more than a picture can show; "
          "they are listed below.",
          picture_.nodes.size());
      return std::move(picture_);
    }
    for (std::size_t index = 0; index < design_.elements.size(); ++index) add_edges(index);
    return std::move(picture_);
  }

 private:
  void add_nodes(std::size_t index) {
    const Element& element = design_.elements[index];
    if (element.hidden) return;
    hand_of_[index] = seen_of_[index] = add_node(element, element.name, element.keyword);
    if (!element.carriage) return;
    seen_of_[index] = add_node(element, element.name + " received", "received");
    add_edge(hand_of_[index], seen_of_[index], false);
  }

  std::size_t add_node(const Element& element, const std::string& name, const std::string& kind) {
    const std::uint32_t signal = by_name_.at(name);
    const dsl::Signal& shown = model_.signals[signal];
    PictureNode node{.signal = signal,
                     .name = element.name,
                     .kind = kind,
                     .detail = std::visit(Detail{element, model_.tick_us}, element.body),
                     .doc = element.doc,
                     .link = link_to(compiled_.sources, element.place),
                     .role = shown.role,
                     .level = shown.sort.kind == dsl::SortKind::level,
                     .range = model_.circuit.node(shown.node).range};
    const std::size_t dot = node.name.rfind('.');
    if (dot != std::string::npos) {
      node.part = node.name.substr(0, dot);
      node.name.erase(0, dot + 1);
    }
    if (kind == "received") node.detail.clear();
    size(node, shown);
    picture_.nodes.push_back(std::move(node));
    return picture_.nodes.size() - 1;
  }

  /// Wide enough for the name, for what is written below it, and for every value that it can have.
  static void size(PictureNode& node, const dsl::Signal& signal) {
    std::size_t value = node.level ? std::max(columns(dsl::to_text(node.range.low, signal.sort)),
                                              columns(dsl::to_text(node.range.high, signal.sort)))
                                   : 0;
    for (const std::string& word : signal.sort.positions) value = std::max(value, columns(word));
    const std::size_t below = columns(node.kind) + (node.detail.empty() ? 0 : columns(node.detail) + 2);
    node.width =
        std::max({width_of(columns(node.name), 7.8), width_of(below, 6.3), width_of(value, 7.4)}) + 50;
    node.height = 46;
  }

  void add_edges(std::size_t index) {
    const Element& element = design_.elements[index];
    if (element.hidden) return;
    if (element.carriage) add_edge(hand_of_[element.carriage->link], seen_of_[index], false);
    std::set<std::size_t> through;
    for (const Term* term : dsl::terms_of(element.body)) read(*term, seen_of_[index], false, through);
  }

  /// What a term reads is led to the node `to`; what is hidden is read through.
  void read(const Term& term, std::size_t to, bool earlier, std::set<std::size_t>& through) {
    const bool old = earlier || term.op == TermOp::previous;
    for (const Term& operand : term.operands) read(operand, to, old, through);
    if (term.op != TermOp::reference && term.op != TermOp::hand && term.op != TermOp::lost) return;
    const Element& source = design_.elements[term.element];
    if (!source.hidden) {
      const auto& nodes = term.op == TermOp::reference ? seen_of_ : hand_of_;
      add_edge(nodes.at(term.element), to, earlier);
      return;
    }
    if (!through.insert(term.element).second) return;
    for (const Term* inner : dsl::terms_of(source.body)) read(*inner, to, earlier, through);
  }

  /// One line for each pair; where a value is read as it is now and as it was, as it is now.
  void add_edge(std::size_t from, std::size_t to, bool earlier) {
    if (from == to) return;
    const auto [found, fresh] = edges_.emplace(std::pair{from, to}, picture_.edges.size());
    if (fresh) {
      picture_.edges.push_back({from, to, earlier});
    } else if (!earlier) {
      picture_.edges[found->second].earlier = false;
    }
  }

  const dsl::Compiled& compiled_;
  const dsl::Design& design_;
  const dsl::Model& model_;
  std::size_t most_;
  std::map<std::string, std::uint32_t> by_name_;
  std::map<std::size_t, std::size_t> hand_of_, seen_of_;  ///< nodes, by element
  std::map<std::pair<std::size_t, std::size_t>, std::size_t> edges_;
  Picture picture_;
};

}  // namespace

Picture picture_of(const dsl::Compiled& compiled, std::size_t most) {
  return Drafting(compiled, most).make();
}

std::string link_to(const dsl::Sources& sources, const dsl::Place& place) {
  return fmt::format("#f{}-L{}", place.file, sources.line_column(place).line);
}

}  // namespace detent::cli::report
