// Fish is given a line for each command, option and place, with a condition on which it counts.
#include <fmt/format.h>

#include "cli/manual/completions.hpp"
#include "cli/manual/templates.hpp"

namespace detent::cli::manual {
namespace {

/// As fish reads single quotes.
std::string in_quotes(const std::string& text) {
  std::string safe = "'";
  for (const char c : text) {
    if (c == '\'' || c == '\\') safe += '\\';
    safe += c;
  }
  return safe + "'";
}

std::string action(const Value& value) {
  switch (value.kind) {
    case ValueKind::text:
      return "";
    case ValueKind::choice:
      return fmt::format(" -a '{}'", fmt::join(value.words, " "));
    case ValueKind::file:
      return value.words.empty() ? " -F"
                                 : fmt::format(" -k -a '(__detent_files {})'", fmt::join(value.words, " "));
    case ValueKind::folder:
      return " -a '(__fish_complete_directories)'";
    case ValueKind::program:
      return " -a '(__fish_complete_command)'";
    case ValueKind::claim:
      return " -a '(__detent_names claim)'";
    case ValueKind::tunable:
      return " -a '(__detent_names tunable)'";
  }
  return "";
}

std::string count_rows(const CommandLine& command) {
  std::string rows;
  for (const OptionLine& option : command.options) {
    if (option.count == 0) continue;
    rows += "case";
    for (const std::string& name : option.names) rows += fmt::format(" '{} {}'", command.name, name);
    rows += fmt::format("\n    echo {}\n", option.count);
  }
  return rows;
}

/// An option takes one value to fish; those behind it are offered here.
std::string further_values(const CommandLine& command, const OptionLine& option) {
  std::string rows;
  for (int i = 2; i <= option.count; ++i) {
    rows += fmt::format("complete -c detent -n '__detent_behind {} {} {}'{}\n", command.name,
                        option.names.back(), i, action(option.value));
  }
  return rows;
}

std::string option_row(const CommandLine& command, const OptionLine& option) {
  std::string row = fmt::format("complete -c detent -n '__detent_at {}'", command.name);
  for (const std::string& name : option.names) {
    row += name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1);
  }
  const bool any_file = option.value.kind == ValueKind::file && option.value.words.empty();
  if (option.count > 0) row += (any_file ? " -r" : " -x") + action(option.value);
  const std::string about = short_form(option.about);
  return row + (about.empty() ? "" : " -d " + in_quotes(about)) + '\n' + further_values(command, option);
}

std::string place_row(const CommandLine& command, std::size_t number, const Place& place) {
  if (place.value.kind == ValueKind::text) return "";
  return fmt::format("complete -c detent -n '__detent_at {} {}{}'{}\n", command.name, number,
                     place.repeatable ? " +" : "", action(place.value));
}

}  // namespace

std::string fish_completion(const std::vector<CommandLine>& commands) {
  std::string counts, names, options;
  for (const CommandLine& command : commands) {
    counts += count_rows(command);
    names += fmt::format("complete -c detent -n __fish_is_first_token -a {} -d {}\n", command.name,
                         in_quotes(short_form(command.help.summary)));
    options += '\n';
    for (const OptionLine& option : command.options) options += option_row(command, option);
    for (std::size_t i = 0; i < command.places.size(); ++i)
      options += place_row(command, i, command.places[i]);
  }
  return filled(fish_template(), {{"counts", counts}, {"commands", names}, {"options", options}});
}

}  // namespace detent::cli::manual
