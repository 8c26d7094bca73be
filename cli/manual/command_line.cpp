// CLI11 knows which options there are and how many values each takes; the help knows what the values are
// called. What can be offered for a value follows from how it is called, by the rules in `kind_of`.
#include "cli/manual/command_line.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cctype>
#include <optional>
#include <regex>
#include <sstream>

#include "cli/commands.hpp"
#include "cli/lesson_shelf.hpp"
#include "cli/starting_designs.hpp"

namespace detent::cli::manual {
namespace {

std::vector<std::string> split(const std::string& text, const std::string& at) {
  std::vector<std::string> parts;
  std::size_t from = 0;
  for (std::size_t end = 0; (end = text.find(at, from)) != std::string::npos; from = end + at.size()) {
    parts.push_back(text.substr(from, end - from));
  }
  parts.push_back(text.substr(from));
  return parts;
}

// ---- What can be offered for a value ----

/// "auto, always or never; …" to its words.
std::vector<std::string> choices_in(const std::string& about) {
  static const std::regex list(R"(([a-z]+(?:, [a-z]+)*) or ([a-z]+)(?:;.*)?)");
  std::smatch found;
  if (!std::regex_match(about, found, list)) return {};
  std::vector<std::string> words = split(found.str(1), ", ");
  words.push_back(found.str(2));
  return words;
}

std::vector<std::string> function_names() {
  std::vector<std::string> names;
  for (const StartingDesign& design : starting_designs()) names.emplace_back(design.name);
  return names;
}

std::vector<std::string> lesson_names() {
  std::vector<std::string> names;
  for (const ShelvedLesson& lesson : shelved_lessons()) names.push_back(std::to_string(lesson.number));
  for (const ShelvedLesson& lesson : shelved_lessons()) names.push_back(lesson.name);
  return names;
}

/// "NAME.run" or "LOG.csv": the ending, or "".
std::string ending_of(const std::string& name) {
  static const std::regex file(R"([A-Z]+\.([a-z.]+[a-z]))");
  std::smatch found;
  return std::regex_match(name, found, file) ? found.str(1) : "";
}

Value named(const std::string& name, ValueKind kind, std::vector<std::string> words = {}) {
  return {.name = name, .kind = kind, .words = std::move(words)};
}

std::vector<std::string> names_of(const std::vector<Term>& terms) {
  std::vector<std::string> names;
  for (const Term& term : terms) names.push_back(term.name);
  return names;
}

/// By how the help calls it. `option`: its long name, or "" for a place; `term`: what the help says of it.
Value kind_of(const std::string& name, const std::string& option, const Term& term) {
  if (!term.kinds.empty()) return named(name, ValueKind::choice, names_of(term.kinds));
  if (name.find('|') != std::string::npos) return named(name, ValueKind::choice, split(name, "|"));
  if (std::vector<std::string> words = choices_in(term.about); !words.empty()) {
    return named(name, ValueKind::choice, std::move(words));
  }
  if (name == "FUNCTION") return named(name, ValueKind::choice, function_names());
  if (name == "LESSON") return named(name, ValueKind::choice, lesson_names());
  if (name == "FOLDER") return named(name, ValueKind::folder);
  if (name == "COMMAND") return named(name, ValueKind::program);
  if (option == "--claim") return named(name, ValueKind::claim);
  if (option == "--only" || option == "--together") return named(name, ValueKind::tunable);
  if (name == "SHARDS") return named(name, ValueKind::file, {"json"});
  if (name == "RUN") return named(name, ValueKind::file, {"run", "run.json"});
  if (std::string ending = ending_of(name); !ending.empty())
    return named(name, ValueKind::file, {std::move(ending)});
  if (name == "FILE" && option == "--output") return named(name, ValueKind::file);
  if (name == "FILE" || name == "A" || name == "B") return named(name, ValueKind::file, {"detent"});
  return named(name, ValueKind::text);
}

// ---- What the help says of an option ----

struct Said {
  std::string value;  ///< "TIME"
  Term term;
};

/// "-o, --output FILE" to "FILE", if `name` is one of them.
std::optional<std::string> value_in(const std::string& term, const std::string& name) {
  const std::vector<std::string> forms = split(term, ", ");
  const bool has_it = std::any_of(forms.begin(), forms.end(), [&](const std::string& form) {
    return form == name || form.starts_with(name + ' ');
  });
  if (!has_it) return std::nullopt;
  const std::size_t blank = forms.back().find(' ');
  return blank == std::string::npos ? "" : forms.back().substr(blank + 1);
}

Said said_of(const HelpPage& page, const std::string& name) {
  for (const Term& term : all_terms(page)) {
    if (const std::optional<std::string> value = value_in(term.name, name)) return {*value, term};
  }
  return {};
}

OptionLine option_line(const CLI::Option& option, const HelpPage& page) {
  OptionLine line;
  for (const std::string& name : option.get_snames()) line.names.push_back('-' + name);
  for (const std::string& name : option.get_lnames()) line.names.push_back("--" + name);
  const Said said = said_of(page, line.names.back());
  line.about = said.term.about;
  if (option.get_items_expected_max() == 0) return line;
  line.count = std::max(1, option.get_items_expected_min());
  line.repeatable = option.get_items_expected_max() > line.count;
  line.value = kind_of(said.value, line.names.back(), said.term);
  return line;
}

/// The words of "detent show FILE [signals|tree|circuit]" that stand for a place: what options bring along is
/// none.
std::vector<std::string> places_in(const std::string& usage) {
  std::istringstream words(usage);
  std::vector<std::string> places;
  bool of_option = false;
  for (std::string word; words >> word;) {
    word.erase(std::remove_if(word.begin(), word.end(), [](char c) { return c == '[' || c == ']'; }),
               word.end());
    const bool is_option = word.starts_with('-');
    const bool is_literal =
        std::none_of(word.begin(), word.end(), [](unsigned char c) { return std::isupper(c); }) &&
        word.find('|') == std::string::npos;
    if (!is_option && !of_option && !is_literal) places.push_back(word);
    of_option = is_option;
  }
  return places;
}

std::vector<Place> places_of(const CLI::App& app, const HelpPage& page) {
  const std::vector<std::string> called = places_in(page.usage);
  std::vector<Place> places;
  for (const CLI::Option* option :
       app.get_options([](const CLI::Option* it) { return it->get_positional(); })) {
    std::string name = places.size() < called.size() ? called[places.size()] : option->get_name(true);
    while (name.ends_with('.')) name.pop_back();
    places.push_back({.value = kind_of(name, "", {}), .repeatable = option->get_items_expected_max() > 1});
  }
  return places;
}

CommandLine line_of(const Command& command) {
  CLI::App app;
  command.describe(app);
  CommandLine line{.name = command.name, .help = read_help(command.help()), .options = {}, .places = {}};
  for (const CLI::Option* option :
       app.get_options([](const CLI::Option* it) { return !it->get_positional(); })) {
    line.options.push_back(option_line(*option, line.help));
  }
  line.places = places_of(app, line.help);
  return line;
}

}  // namespace

std::vector<CommandLine> command_lines() {
  std::vector<CommandLine> lines;
  for (const Command& command : all_commands()) lines.push_back(line_of(command));
  return lines;
}

std::string short_form(const std::string& about) {
  constexpr std::size_t longest = 70;
  std::size_t end = about.size();
  for (const char* pause : {"; ", ". ", ": ", " (", ", for example", "? "})
    end = std::min(end, about.find(pause));
  if (end <= longest) return about.substr(0, end);
  const std::size_t blank = about.rfind(' ', longest);
  return about.substr(0, blank == std::string::npos ? longest : blank) + " …";
}

}  // namespace detent::cli::manual
