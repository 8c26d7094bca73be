// Zsh has a language for this: `_arguments` is given a specification of each option and place.
#include <fmt/format.h>

#include "cli/manual/completions.hpp"
#include "cli/manual/templates.hpp"

namespace detent::cli::manual {
namespace {

std::string in_quotes(const std::string& text) {
  std::string quoted = "'";
  for (const char c : text) quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return quoted + "'";
}

/// What stands in brackets or before a colon has both of them hidden.
std::string hidden(const std::string& text) {
  std::string safe;
  for (const char c : text) {
    if (c == '[' || c == ']' || c == ':' || c == '\\') safe += '\\';
    safe += c;
  }
  return safe;
}

/// "*.detent", or "*.(run|run.json)": a single word in parentheses would be read as a wish about files.
std::string endings(const std::vector<std::string>& words) {
  return words.size() == 1 ? "*." + words.front() : fmt::format("*.({})", fmt::join(words, "|"));
}

/// With a blank before it, it is called as it stands; otherwise zsh puts wishes of its own behind the first
/// word.
std::string action(const Value& value) {
  switch (value.kind) {
    case ValueKind::text:
      return " ";
    case ValueKind::choice:
      return fmt::format("({})", fmt::join(value.words, " "));
    case ValueKind::file:
      return value.words.empty() ? "_files" : fmt::format("_files -g \"{}(-.)\"", endings(value.words));
    case ValueKind::folder:
      return "_files -/";
    case ValueKind::program:
      return " _command_names -e";
    case ValueKind::claim:
      return " _detent_names claim";
    case ValueKind::tunable:
      return " _detent_names tunable";
  }
  return " ";
}

std::string values(const OptionLine& option) {
  std::string text;
  for (int i = 0; i < option.count; ++i) {
    text += fmt::format(":{}:{}", hidden(option.value.name), action(option.value));
  }
  return text;
}

/// '(-o --output)'{-o,--output=}'[where the page goes]:FILE:_files'
std::string option_spec(const OptionLine& option) {
  const auto form = [&](const std::string& name) {
    return name + (option.count > 0 && name.starts_with("--") ? "=" : "");
  };
  const std::string rest = in_quotes(fmt::format("[{}]", hidden(short_form(option.about))) + values(option));
  if (option.names.size() == 1) {
    return in_quotes((option.repeatable ? "*" : "") + form(option.names.front())) + rest;
  }
  std::vector<std::string> forms;
  for (const std::string& name : option.names) forms.push_back(form(name));
  const std::string apart = option.repeatable ? "'*'" : fmt::format("'({})'", fmt::join(option.names, " "));
  return fmt::format("{}{{{}}}{}", apart, fmt::join(forms, ","), rest);
}

std::string place_spec(const Place& place) {
  return in_quotes(
      fmt::format("{}:{}:{}", place.repeatable ? "*" : "", hidden(place.value.name), action(place.value)));
}

std::string arguments(const CommandLine& command) {
  std::string rows = fmt::format("{})\n  _arguments", command.name);
  for (const OptionLine& option : command.options) rows += " \\\n    " + option_spec(option);
  for (const Place& place : command.places) rows += " \\\n    " + place_spec(place);
  return rows + "\n  ;;\n";
}

}  // namespace

std::string zsh_completion(const std::vector<CommandLine>& commands) {
  std::string names, rows;
  for (const CommandLine& command : commands) {
    names += in_quotes(command.name + ':' + hidden(short_form(command.help.summary))) + '\n';
    rows += arguments(command);
  }
  return filled(zsh_template(), {{"commands", names}, {"arguments", rows}});
}

}  // namespace detent::cli::manual
