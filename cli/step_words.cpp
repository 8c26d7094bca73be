#include "cli/decimal.hpp"
#include "cli/step_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace detent::cli {
namespace {

using Kind = Command::Kind;

struct Word {
  std::string_view text;
  Kind kind;
};
constexpr Word words[] = {
    {"next", Kind::next},       {"rest", Kind::rest},           {"until", Kind::until},
    {"undo", Kind::undo},       {"redo", Kind::redo},           {"show", Kind::show},
    {"claims", Kind::claims},   {"diagram", Kind::diagram},     {"save", Kind::save},
    {"load", Kind::load},       {"violation", Kind::violation}, {"power", Kind::power_on},
    {"restart", Kind::restart}, {"help", Kind::help},           {"quit", Kind::quit}};

}  // namespace

Reading<Command> wrong(std::string problem, std::string mend) {
  return {.problem = std::move(problem), .mend = std::move(mend)};
}

Reading<Command> good(Command command) {
  return {.value = std::move(command)};
}

std::string quoted(std::string_view text) {
  return fmt::format("'{}{}'", text.substr(0, 60), text.size() > 60 ? "…" : "");
}

/// The first word; the rest is left in `text`.
std::string_view take_word(std::string_view& text) {
  const std::size_t end = std::min(text.find_first_of(" \t"), text.size());
  const std::string_view word = text.substr(0, end);
  text = trimmed(text.substr(end));
  return word;
}

std::vector<std::string> claim_names(const dsl::Model& model) {
  std::vector<std::string> names;
  for (const dsl::Claim& claim : model.claims) names.push_back(claim.name);
  return names;
}

std::optional<std::uint32_t> claim_called(const dsl::Model& model, std::string_view name) {
  for (std::uint32_t index = 0; index < model.claims.size(); ++index) {
    if (model.claims[index].name == name) return index;
  }
  return std::nullopt;
}

std::vector<std::string> command_names() {
  std::vector<std::string> names;
  for (const Word& word : words) names.emplace_back(word.text);
  return names;
}

std::optional<Kind> command_called(std::string_view name) {
  for (const Word& word : words) {
    if (word.text == name) return word.kind;
  }
  return std::nullopt;
}

}  // namespace detent::cli
