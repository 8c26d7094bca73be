// Lines typed at a terminal, with history and completion (libedit), or read from anywhere else.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace detent::cli {

class LineSource {
 public:
  LineSource() = default;
  LineSource(const LineSource&) = delete;
  LineSource& operator=(const LineSource&) = delete;
  virtual ~LineSource() = default;
  /// The next line, without its end; false where there is none any more.
  virtual bool next(const std::string& prompt, std::string& line) = 0;
  /// Whether a person sits there.
  [[nodiscard]] virtual bool is_person() const = 0;
};

struct Completions {
  std::string part;                ///< the beginning, at the end of what is typed
  std::vector<std::string> words;  ///< that it can become
};
using Completer = std::function<Completions(std::string_view typed)>;

/// At a terminal: typed lines can be edited, looked up and completed, Ctrl-D and Ctrl-C on an empty line end
/// it. The history is kept in $XDG_STATE_HOME/detent/history where that variable is set, and nowhere else.
[[nodiscard]] std::unique_ptr<LineSource> line_editor(Completer completer);

/// Standard input, line by line. A line of more than 64 KiB is cut there, which no command survives.
[[nodiscard]] std::unique_ptr<LineSource> plain_lines();

}  // namespace detent::cli
