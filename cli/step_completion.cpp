// What may come next on the line that is being typed.
#include "cli/step_completion.hpp"

#include <algorithm>

#include "cli/decimal.hpp"
#include "cli/step_words.hpp"

namespace detent::cli {
namespace {

void keep_beginning(std::vector<std::string>& names, std::string_view part) {
  names.erase(std::remove_if(names.begin(), names.end(),
                             [&](const std::string& name) { return !name.starts_with(part); }),
              names.end());
  std::sort(names.begin(), names.end());
  names.erase(std::unique(names.begin(), names.end()), names.end());
}

void add(std::vector<std::string>& names, std::vector<std::string> more) {
  for (std::string& name : more) names.push_back(std::move(name));
}

Completion completed(std::string_view part, std::vector<std::string> names) {
  keep_beginning(names, part);
  return {std::string(part), std::move(names)};
}

/// Behind the name of a signal: its values.
std::optional<Completion> complete_value(const dsl::Model& model, std::string_view text, bool hands,
                                         std::vector<std::string> more) {
  std::string_view rest = text;
  const auto signal = take_signal(model, rest, hands);
  if (!signal || text.size() == model.signals[*signal].name.size()) return std::nullopt;
  add(more, value_names(model.signals[*signal]));
  for (const std::string_view word : {std::string_view("is"), std::string_view("to")}) {
    const bool whole =
        rest.starts_with(word) && (rest.size() > word.size() ? rest[word.size()] == ' ' : text.back() == ' ');
    if (whole) rest = trimmed(rest.substr(word.size()));
  }
  return completed(rest, std::move(more));
}

}  // namespace

Completion complete(const dsl::Model& model, std::string_view typed) {
  const std::size_t semicolon = typed.rfind(';');
  if (semicolon != std::string_view::npos) typed = typed.substr(semicolon + 1);
  const auto from_first = [](std::string_view text) {
    return text.substr(std::min(text.find_first_not_of(" \t"), text.size()));
  };
  typed = from_first(typed);
  const std::string_view first = typed.substr(0, std::min(typed.find_first_of(" \t"), typed.size()));
  const bool behind_first = first.size() < typed.size();
  std::string_view rest = from_first(typed.substr(first.size()));
  if (behind_first && first == "until") {
    if (auto values = complete_value(model, rest, false, {"is", "changes"})) return std::move(*values);
    std::vector<std::string> names = signal_names(model, false);
    names.emplace_back("a claim breaks");
    return completed(rest, std::move(names));
  }
  if (behind_first && first == "violation") return completed(rest, claim_names(model));
  if (behind_first && first == "power") return completed(rest, {"on"});
  if (behind_first && (first == "show" || first == "diagram")) {
    const std::size_t comma = rest.rfind(',');
    if (comma != std::string_view::npos) rest = from_first(rest.substr(comma + 1));
    return completed(rest, signal_names(model, false));
  }
  const std::size_t comma = typed.rfind(',');
  const std::string_view move = comma == std::string_view::npos ? typed : from_first(typed.substr(comma + 1));
  if (auto values = complete_value(model, move, true, {})) return std::move(*values);
  std::vector<std::string> names = signal_names(model, true);
  if (comma == std::string_view::npos) add(names, command_names());
  return completed(move, std::move(names));
}

}  // namespace detent::cli
