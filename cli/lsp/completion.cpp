// What may be written at a place, as a list to choose from.
#include <fmt/format.h>

#include "cli/lsp/questions.hpp"
#include "dsl/what_fits.hpp"
#include "dsl/word_meanings.hpp"

namespace detent::cli::lsp {
namespace {

/// CompletionItemKind of LSP 3.17.
int kind_of(dsl::FittingSort sort) {
  switch (sort) {
    case dsl::FittingSort::function:
      return 3;
    case dsl::FittingSort::name:
      return 6;  // variable
    case dsl::FittingSort::unit:
      return 11;
    case dsl::FittingSort::position:
      return 20;  // enum member
    case dsl::FittingSort::word:
      break;
  }
  return 14;  // keyword
}

void describe(const Analysis& design, const dsl::Fitting& fitting, Json& item) {
  if (fitting.thing != dsl::no_thing) {
    const dsl::NamedThing& thing = design.names.things[fitting.thing];
    item["detail"] = thing.keyword;
    const bool own = thing.sort != dsl::NameSort::position && thing.sort != dsl::NameSort::parameter;
    if (own && thing.declaration != nullptr && !thing.declaration->doc.empty()) {
      item["documentation"] = thing.declaration->doc;
    }
  } else if (const dsl::WordMeaning* word = dsl::meaning_of(fitting.text)) {
    item["detail"] = std::string(word->form);
    item["documentation"] = std::string(word->meaning);
  }
}

}  // namespace

Json completion(const Question& question) {
  const Spot& spot = question.spots.front();
  const Analysis& design = *spot.design;
  const dsl::WhatFits fits = dsl::what_fits(design.names, design.compiled.sources, spot.file, spot.offset);
  const Json range =
      json_range(design.position(spot.file, fits.begin), design.position(spot.file, spot.offset));
  Json items = Json::array();
  for (const dsl::Fitting& fitting : fits.all) {
    Json item{{"label", fitting.text},
              {"kind", kind_of(fitting.sort)},
              {"sortText", fmt::format("{:05}", items.size())},
              {"textEdit", {{"range", range}, {"newText", fitting.text}}}};
    describe(design, fitting, item);
    items.push_back(std::move(item));
  }
  return {{"isIncomplete", false}, {"items", std::move(items)}};
}

}  // namespace detent::cli::lsp
