#include <fmt/format.h>

#include "cli/manual/completions.hpp"
#include "cli/manual/templates.hpp"

namespace detent::cli::manual {
namespace {

std::string joined(const std::vector<std::string>& words) {
  return fmt::format("{}", fmt::join(words, " "));
}

std::string action(const Value& value) {
  switch (value.kind) {
    case ValueKind::text:
      return ":";
    case ValueKind::choice:
      return fmt::format("_detent_words '{}'", joined(value.words));
    case ValueKind::file:
      return value.words.empty() ? "_detent_any_file" : "_detent_files " + joined(value.words);
    case ValueKind::folder:
      return "_detent_files";
    case ValueKind::program:
      return "_detent_programs";
    case ValueKind::claim:
      return "_detent_names claim";
    case ValueKind::tunable:
      return "_detent_names tunable";
  }
  return ":";
}

/// 'check --claim', or 'report -o' | 'report --output'
std::string pattern(const CommandLine& command, const OptionLine& option) {
  std::vector<std::string> forms;
  for (const std::string& name : option.names) forms.push_back(fmt::format("'{} {}'", command.name, name));
  return fmt::format("{}", fmt::join(forms, " | "));
}

std::string option_names(const CommandLine& command) {
  std::vector<std::string> names;
  for (const OptionLine& option : command.options) {
    names.insert(names.end(), option.names.begin(), option.names.end());
  }
  return joined(names);
}

std::string place_rows(const CommandLine& command) {
  std::string rows;
  for (std::size_t i = 0; i < command.places.size(); ++i) {
    const Place& place = command.places[i];
    const std::string number = place.repeatable ? "*" : std::to_string(i);
    rows += fmt::format("'{} '{}) {} ;;\n", command.name, number, action(place.value));
  }
  return rows;
}

}  // namespace

std::string bash_completion(const std::vector<CommandLine>& commands) {
  std::string names, counts, values, options, places;
  for (const CommandLine& command : commands) {
    names += command.name + ' ';
    for (const OptionLine& option : command.options) {
      if (option.count == 0) continue;
      counts += fmt::format("{}) count={} ;;\n", pattern(command, option), option.count);
      values += fmt::format("{}) {} ;;\n", pattern(command, option), action(option.value));
    }
    options += fmt::format("{}) _detent_words '{}' ;;\n", command.name, option_names(command));
    places += place_rows(command);
  }
  const std::string first = fmt::format("_detent_words '{}--help --version'\n", names);
  return filled(bash_template(), {{"counts", counts},
                                  {"values", values},
                                  {"options", options},
                                  {"places", places},
                                  {"commands", first}});
}

}  // namespace detent::cli::manual
