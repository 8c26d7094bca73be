#include "dsl/rename.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "dsl/grammar.hpp"
#include "dsl/grammar/bytes.hpp"
#include "dsl/grammar/words.hpp"

namespace detent::dsl {
namespace {

/// What the reader finds, and not only the checker.
bool is_of_reading(Code code) {
  switch (code) {
    case Code::unreadable_file:
    case Code::file_too_large:
    case Code::bad_character:
    case Code::include_cycle:
    case Code::include_holds_more:
    case Code::syntax:
    case Code::nested_too_deeply:
    case Code::bad_number:
    case Code::reserved_word:
      return true;
    default:
      return false;
  }
}

std::string line_of(const Compiled& design, const Place& place) {
  return fmt::format("line {} of {}", design.sources.line_column(place).line,
                     design.sources.name(place.file));
}

/// The first error that was not there before.
std::string new_error(const Compiled& before, const Compiled& after) {
  std::multiset<std::string> known;
  for (const Diagnostic& one : before.diagnostics) known.insert(std::string(code_name(one.code)));
  for (const Diagnostic& one : after.diagnostics) {
    const auto found = known.find(std::string(code_name(one.code)));
    if (found != known.end()) {
      known.erase(found);
    } else if (one.severity() == Severity::error) {
      return fmt::format("then {} ({})", one.message, line_of(after, one.place));
    }
  }
  return "";
}

/// Where the two indexes part: names stand in the same order in both texts.
std::string other_meaning(const Compiled& before, const NameIndex& names, const NameIndex& after) {
  const std::size_t count = std::min(names.mentions.size(), after.mentions.size());
  for (std::size_t i = 0; i < count; ++i) {
    const Mention& one = names.mentions[i];
    const Mention& other = after.mentions[i];
    if (one.thing == other.thing && one.definition == other.definition && one.place.file == other.place.file)
      continue;
    return fmt::format("then another thing would be meant in {}", line_of(before, one.place));
  }
  return names.mentions.size() == after.mentions.size() ? ""
                                                        : "then another thing would be meant by some name";
}

}  // namespace

std::string name_problem(NameSort sort, const std::string& name) {
  const bool word = !name.empty() && grammar::begins_word(name.front()) &&
                    std::all_of(name.begin(), name.end(), grammar::is_word_character);
  if (!word) return "a name has letters, digits and _, and does not begin with a digit";
  if (name.size() > longest_name) return fmt::format("a name has at most {} characters", longest_name);
  const bool position = sort == NameSort::position && grammar::contains(grammar::position_words, name);
  if (grammar::is_reserved(name) && !position) return fmt::format("'{}' is a word of the language", name);
  return "";
}

bool is_read_whole(const Diagnostics& diagnostics) {
  return std::none_of(diagnostics.begin(), diagnostics.end(),
                      [](const Diagnostic& one) { return is_of_reading(one.code); });
}

std::string renamed_text(const Compiled& design, const NameIndex& names, std::size_t thing,
                         const std::string& name, std::uint32_t file) {
  const std::string_view text = design.sources.text(file);
  std::string made;
  std::size_t done = 0;
  for (const Place& place : names.places_of(thing)) {
    if (place.file != file) continue;
    made.append(text.substr(done, place.begin - done)).append(name);
    done = place.end;
  }
  return made.append(text.substr(done));
}

std::string rename_problem(const Compiled& design, const NameIndex& names, std::size_t thing,
                           const std::string& name) {
  if (std::string problem = name_problem(names.things[thing].sort, name); !problem.empty()) return problem;
  if (!is_read_whole(design.diagnostics)) {
    return "not all of the text can be read, so that some use of the name might be missed; mend that first";
  }
  std::map<std::string, std::string> texts;
  for (std::uint32_t file = 0; file < design.sources.size(); ++file) {
    texts.emplace(design.sources.name(file), renamed_text(design, names, thing, name, file));
  }
  const Compiled after = compile(design.sources.name(0), [&](const std::string& path) {
    const auto found = texts.find(path);
    return found == texts.end() ? FileText{.text = std::nullopt} : FileText{.text = found->second};
  });
  if (std::string problem = new_error(design, after); !problem.empty()) return problem;
  return other_meaning(design, names, index_names(after.tree, after.sources));
}

}  // namespace detent::dsl
