// A session and a person, or a script, in turn: command in, answer out.
#pragma once

#include <string>
#include <variant>

#include "cli/page.hpp"
#include "cli/settings.hpp"
#include "cli/step_command.hpp"
#include "cli/step_session.hpp"
#include "cli/terminal.hpp"

namespace detent::cli {

class Talk {
 public:
  Talk(const dsl::Compiled& compiled, const Settings& settings, const Terminal& terminal);

  /// Does one command. The answer, or why it can't be done; then nothing has changed.
  std::variant<std::string, Refusal> answer(std::string_view command);

  /// "5 s> ", "off> ".
  [[nodiscard]] std::string prompt() const;
  [[nodiscard]] bool is_over() const { return over_; }

 private:
  using Answer = std::variant<std::string, Refusal>;
  Answer act(const Command& command);
  Answer move(const Command& command);
  Answer pass(const Command& command);
  Answer wait(const Command& command);
  Answer violation(const Command& command);
  Answer load(const Command& command);
  Answer save(const Command& command);
  Answer step_back(const Command& command);
  Answer play_on(Value ticks);
  Answer tell(std::variant<Passage, Refusal> outcome);
  [[nodiscard]] std::string shown(const Page& page) const;
  [[nodiscard]] std::string standing() const;

  const dsl::Compiled& compiled_;
  const Settings& settings_;
  Terminal terminal_;
  Session session_;
  bool over_ = false;
};

}  // namespace detent::cli
