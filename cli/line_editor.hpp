// Lines typed at a terminal, with history and completion (libedit), or read from anywhere else.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace detent::cli {

/// Why there are no more lines, though there should be.
struct LineTrouble {
  std::string what;
  std::string mend;
  bool in_line = false;  ///< it is about the line that would have come next
};

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
  /// After next() was false.
  [[nodiscard]] const std::optional<LineTrouble>& trouble() const { return trouble_; }

 protected:
  std::optional<LineTrouble> trouble_;
};

struct Completions {
  std::string part;                ///< the beginning, at the end of what is typed
  std::vector<std::string> words;  ///< that it can become
};
using Completer = std::function<Completions(std::string_view typed)>;

/// At a terminal: typed lines can be edited, looked up and completed, Ctrl-D and Ctrl-C on an empty line end
/// it. The history is kept in $XDG_STATE_HOME/detent/history where that variable is set, and nowhere else.
[[nodiscard]] std::unique_ptr<LineSource> line_editor(Completer completer);

/// What becomes of a line of more than 64 KiB: commands must not lose their end, while an answer may.
enum class LongLine { refused, cut };

/// Standard input, line by line. An input that can't be read is refused.
[[nodiscard]] std::unique_ptr<LineSource> plain_lines(LongLine long_line = LongLine::refused);

}  // namespace detent::cli
