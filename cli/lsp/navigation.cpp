// Where a name is declared, and where it is used.
#include <algorithm>
#include <filesystem>
#include <map>
#include <string_view>
#include <utility>

#include "cli/lsp/questions.hpp"

namespace detent::cli::lsp {
namespace {

/// The file that an include line names, if the place is in its quotes.
std::optional<std::uint32_t> included_at(const Spot& spot) {
  const std::string_view text = spot.design->compiled.sources.text(spot.file);
  const std::size_t begin = text.rfind('\n', spot.offset == 0 ? 0 : spot.offset - 1) + 1;  // npos + 1 is 0
  const std::string_view line = text.substr(begin, text.find_first_of("\r\n", begin) - begin);
  const std::size_t open = line.find('"');
  const std::size_t close = open == std::string_view::npos ? open : line.find('"', open + 1);
  const std::size_t word = line.find_first_not_of(" \t");
  const bool include = word != std::string_view::npos && line.substr(word).starts_with("include");
  const std::size_t at = spot.offset - std::min<std::size_t>(spot.offset, begin);
  if (!include || close == std::string_view::npos || at < open || at > close + 1) return std::nullopt;
  const std::filesystem::path folder =
      std::filesystem::path(spot.design->path_of_file(spot.file)).parent_path();
  const std::filesystem::path named = folder / line.substr(open + 1, close - open - 1);
  return spot.design->file(named.lexically_normal().generic_string());
}

}  // namespace

const dsl::Mention* mention_at(const Spot& spot) {
  return spot.design->names.at(spot.file, spot.offset);
}

Json location(const Analysis& design, const dsl::Place& place, const Client& client) {
  return {{"uri", client.uri(design.path_of_file(place.file))}, {"range", design.range(place)}};
}

Json definition(const Question& question) {
  for (const Spot& spot : question.spots) {
    if (const dsl::Mention* mention = mention_at(spot)) {
      return location(*spot.design, spot.design->names.things[mention->thing].definition, question.client);
    }
    if (const auto file = included_at(spot)) return location(*spot.design, {*file, 0, 0}, question.client);
  }
  return nullptr;
}

Json references(const Question& question) {
  const bool with_declaration = says_yes(question.params, "/context/includeDeclaration");
  std::map<std::pair<std::string, Position>, Json> all;
  for (const Spot& spot : question.spots) {
    const dsl::Mention* mention = mention_at(spot);
    if (mention == nullptr) continue;
    const dsl::Place& definition = spot.design->names.things[mention->thing].definition;
    for (const dsl::Place& place : spot.design->names.places_of(mention->thing)) {
      if (!with_declaration && place == definition) continue;
      const Position begin = spot.design->position(place.file, place.begin);
      all[{spot.design->path_of_file(place.file), begin}] = location(*spot.design, place, question.client);
    }
  }
  Json list = Json::array();
  for (auto& [where, one] : all) list.push_back(std::move(one));
  return list;
}

/// DocumentHighlightKind of LSP 3.17: a declaration writes, everything else reads.
Json highlights(const Question& question) {
  constexpr int read = 2;
  constexpr int write = 3;
  const Spot& spot = question.spots.front();
  const dsl::NameIndex& names = spot.design->names;
  const dsl::Mention* mention = mention_at(spot);
  Json all = Json::array();
  for (const dsl::Mention& one : names.mentions) {
    if (mention == nullptr || one.thing != mention->thing || one.place.file != spot.file) continue;
    all.push_back({{"range", spot.design->range(one.place)}, {"kind", one.definition ? write : read}});
  }
  return all;
}

}  // namespace detent::cli::lsp
