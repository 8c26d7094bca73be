// What may be written behind each command: from the table of commands, with what the help says of it.
#pragma once

#include <string>
#include <vector>

#include "cli/manual/help_page.hpp"

namespace detent::cli::manual {

enum class ValueKind {
  text,    ///< nobody can guess it: a time, a condition
  choice,  ///< one of `words`
  file,    ///< a file whose name ends in one of `words`, or any if there are none
  folder,
  program,  ///< a program that can be run
  claim,    ///< the name of a claim of the design on the line
  tunable,  ///< the name of a tunable of it
};

struct Value {
  std::string name;  ///< as the help has it: "FILE", "TIME", "text|json"
  ValueKind kind = ValueKind::text;
  std::vector<std::string> words = {};  ///< without a dot where they are endings: "detent"
};

struct OptionLine {
  std::vector<std::string> names;  ///< "-o", "--output"
  std::string about;               ///< what the help says of it; "" if it says nothing
  Value value = {};
  int count = 0;            ///< values behind it; 0 for a flag
  bool repeatable = false;  ///< may be written more than once
};

struct Place {
  Value value;
  bool repeatable = false;  ///< the last place may be filled any number of times
};

struct CommandLine {
  std::string name;  ///< "check"
  HelpPage help;
  std::vector<OptionLine> options;  ///< --help among them
  std::vector<Place> places;        ///< what is written without an option, in order
};

/// Of all commands, in the order of the table.
[[nodiscard]] std::vector<CommandLine> command_lines();

/// Its beginning, up to the first pause, for a line beside the word.
[[nodiscard]] std::string short_form(const std::string& about);

}  // namespace detent::cli::manual
