// Another name, in every open design that the text belongs to, or a reason why not.
#include "dsl/rename.hpp"

#include <fmt/format.h>

#include <map>
#include <utility>

#include "cli/lsp/questions.hpp"
#include "cli/lsp/word_at.hpp"
#include "dsl/word_meanings.hpp"

namespace detent::cli::lsp {
namespace {

RequestError refusal(const std::string& why) {
  return {ErrorCode::request_failed, why};
}

/// What stands there where no name does.
RequestError nothing_to_rename(const Spot& spot) {
  const WordAt word = word_at(spot);
  if (word.text.empty()) return refusal("no name stands here");
  if (dsl::meaning_of(word.text) != nullptr) {
    return refusal(fmt::format("'{}' is a word of the language", word.text));
  }
  return refusal(fmt::format("'{}' is no name that is declared here", word.text));
}

const dsl::Mention& renamed(const Spot& spot) {
  const dsl::Mention* mention = mention_at(spot);
  if (mention == nullptr) throw nothing_to_rename(spot);
  if (spot.design->names.things[mention->thing].sort == dsl::NameSort::broken) {
    throw refusal("what declares this name can't be read; mend that first");
  }
  if (!dsl::is_read_whole(spot.design->compiled.diagnostics)) {
    throw refusal(
        "not all of the text can be read, so that some use of the name might be missed; mend that first");
  }
  return *mention;
}

}  // namespace

Json prepare_rename(const Question& question) {
  const Spot& spot = question.spots.front();
  const dsl::Mention& mention = renamed(spot);
  return {{"range", spot.design->range(mention.place)},
          {"placeholder", spot.design->names.things[mention.thing].name}};
}

Json rename(const Question& question) {
  const std::string& name = text_member(question.params, "newName");
  std::map<std::string, std::map<Position, Json>> edits;  // by URI, in order of place
  for (const Spot& spot : question.spots) {
    const dsl::Mention& mention = renamed(spot);
    const std::string problem =
        dsl::rename_problem(spot.design->compiled, spot.design->names, mention.thing, name);
    if (!problem.empty()) throw refusal(problem);
    for (const dsl::Place& place : spot.design->names.places_of(mention.thing)) {
      Json& edit = edits[question.client.uri(spot.design->path_of_file(place.file))]
                        [spot.design->position(place.file, place.begin)];
      edit = {{"range", spot.design->range(place)}, {"newText", name}};
    }
  }
  Json changes = Json::object();
  for (const auto& [uri, all] : edits) {
    for (const auto& [position, edit] : all) changes[uri].push_back(edit);
  }
  return {{"changes", std::move(changes)}};
}

}  // namespace detent::cli::lsp
