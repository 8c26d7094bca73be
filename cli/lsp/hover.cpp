// What a name or a word means, as far as that is known at this moment.
#include <fmt/format.h>

#include <algorithm>

#include "cli/element_words.hpp"
#include "cli/lsp/questions.hpp"
#include "cli/lsp/verdict_lookup.hpp"
#include "cli/lsp/word_at.hpp"
#include "cli/page.hpp"
#include "cli/verdict_text.hpp"
#include "cli/words.hpp"
#include "dsl/text.hpp"
#include "dsl/word_meanings.hpp"

namespace detent::cli::lsp {
namespace {

using dsl::NamedThing;
using dsl::NameSort;

constexpr std::size_t most_elements = 3;  ///< of one declaration in a part that is used many times
constexpr Terminal page_shape{.width = 76, .color = false, .unicode = true};

/// Paragraphs, some of them as they stand (code); Markdown where the client shows it.
class Text {
 public:
  explicit Text(bool markdown) : markdown_(markdown) {}

  void plain(const std::string& words) {
    if (!words.empty()) add(markdown_ ? escaped(printable_lines(words, true)) : printable_lines(words, true));
  }
  void code(const std::string& lines) {
    const std::string fence = fence_for(lines);
    add(markdown_ ? fmt::format("{}text\n{}\n{}", fence, lines, fence) : lines);
  }
  [[nodiscard]] Json json(const Json& range) const {
    return {{"contents", {{"kind", markdown_ ? "markdown" : "plaintext"}, {"value", text_}}},
            {"range", range}};
  }

 private:
  void add(const std::string& paragraph) { text_ += text_.empty() ? paragraph : "\n\n" + paragraph; }

  static std::string escaped(const std::string& words) {
    std::string text;
    for (const char byte : words) {
      if (std::string_view("\\`*_{}[]<>#|~&").find(byte) != std::string_view::npos) text += '\\';
      text += byte;
    }
    return text;
  }
  /// Longer than any row of the same marks in the text.
  static std::string fence_for(const std::string& lines) {
    std::string fence = "```";
    while (lines.find(fence) != std::string::npos) fence += '`';
    return fence;
  }

  bool markdown_;
  std::string text_;
};

/// The first line of what is declared, as it is written.
std::string heading_of(const Analysis& design, const NamedThing& thing) {
  if (thing.sort == NameSort::parameter) return thing.keyword + " " + thing.name;
  if (thing.sort == NameSort::position) {
    return fmt::format("{} of {} {}", thing.keyword == "stages" ? "stage" : "position", thing.keyword,
                       design.names.things[thing.owner].name);
  }
  const std::string_view text = design.compiled.sources.text(thing.whole);
  const bool long_one = thing.sort == NameSort::part || thing.keyword == "stages";
  return printable(dsl::one_line(long_one ? text.substr(0, text.find('\n')) : text), true);
}

std::string range_words(const dsl::Model& model, const dsl::Signal& signal) {
  if (signal.sort.kind != dsl::SortKind::level) return "";
  const dsl::Range range = model.circuit.node(signal.node).range;
  return fmt::format("From {} to {}.", dsl::to_text(range.low, signal.sort),
                     dsl::to_text(range.high, signal.sort));
}

/// Where it stands before anything has happened, if that is always the same.
std::string first_words(const dsl::Model& model, const dsl::Signal& signal) {
  if (signal.role == dsl::SignalRole::hand) return "At power-up it may be anywhere.";
  const dsl::Node& node = model.circuit.node(signal.node);
  if (node.kind == dsl::NodeKind::constant)
    return fmt::format("Always {}.", dsl::to_text(node.number, signal.sort));
  return "";
}

std::string kind_words(const dsl::Signal& signal) {
  switch (signal.sort.kind) {
    case dsl::SortKind::condition:
      return fmt::format("A condition: {} or {}.", signal.sort.positions.at(0), signal.sort.positions.at(1));
    case dsl::SortKind::position:
      return fmt::format("One of: {}.", fmt::join(signal.sort.positions, ", "));
    case dsl::SortKind::level:
      break;
  }
  return signal.sort.unit.empty() ? "A number." : fmt::format("A level in {}.", signal.sort.unit);
}

void add_element(const Spot& spot, const NamedThing& thing, Text& text) {
  if (!spot.design->compiled.model) return;
  const dsl::Model& model = *spot.design->compiled.model;
  std::size_t said = 0;
  for (const dsl::Signal& signal : model.signals) {
    if (!(signal.place == thing.definition) || said == most_elements) continue;
    if (signal.role == dsl::SignalRole::element && signal.name.ends_with(" received")) continue;
    ++said;
    text.plain(element_words(spot.design->compiled, signal.name));
    const std::string range = range_words(model, signal);
    const std::string first = first_words(model, signal);
    text.plain(kind_words(signal) + (range.empty() ? "" : " " + range) + (first.empty() ? "" : " " + first));
    text.plain(received_words(spot.design->compiled, signal.name));
  }
}

void add_claim(const Spot& spot, const NamedThing& thing, Text& text) {
  if (!spot.design->compiled.model) return;
  const dsl::Model& model = *spot.design->compiled.model;
  std::size_t said = 0;
  for (const dsl::Claim& claim : model.claims) {
    if (!(claim.place == thing.definition) || said++ == most_elements) continue;
    const std::string label = verdict_label(*spot.open, claim);
    text.plain(label.empty()
                   ? claim.name + ": not checked since the text has changed; save it to have it checked"
                   : claim.name + ": " + label);
    const solver::Verdict* verdict = verdict_of(*spot.open, claim);
    if (verdict == nullptr) continue;
    text.code(
        render(verdict_block(model, spot.design->compiled.sources, *verdict, {.head = false}, page_shape),
               page_shape));
    text.plain(model_caution);
  }
}

Json hover_thing(const Spot& spot, const dsl::Mention& mention, bool markdown) {
  const NamedThing& thing = spot.design->names.things[mention.thing];
  Text text(markdown);
  text.code(heading_of(*spot.design, thing));
  const bool has_doc = thing.declaration != nullptr && thing.sort != NameSort::parameter &&
                       thing.sort != NameSort::position && !thing.declaration->doc.empty();
  if (has_doc) text.plain(thing.declaration->doc);
  if (thing.sort == NameSort::broken) text.plain("What declares it can't be read yet.");
  if (thing.sort == NameSort::claim) {
    add_claim(spot, thing, text);
  } else if (thing.sort == NameSort::element) {
    add_element(spot, thing, text);
  }
  if (const dsl::WordMeaning* word = dsl::meaning_of(thing.keyword); word != nullptr && mention.definition) {
    text.plain(fmt::format("{}: {}", word->form, word->meaning));
  }
  return text.json(spot.design->range(mention.place));
}

Json hover_word(const Spot& spot, bool markdown) {
  const WordAt word = word_at(spot);
  const dsl::WordMeaning* meaning = dsl::meaning_of(word.text);
  if (meaning == nullptr) return nullptr;
  Text text(markdown);
  text.code(std::string(meaning->form));
  text.plain(std::string(meaning->meaning));
  return text.json(spot.design->range(word.place));
}

}  // namespace

Json hover(const Question& question) {
  for (const Spot& spot : question.spots) {
    if (const dsl::Mention* mention = mention_at(spot)) {
      return hover_thing(spot, *mention, question.client.markdown);
    }
  }
  return hover_word(question.spots.front(), question.client.markdown);
}

}  // namespace detent::cli::lsp
