// A client of the language server in the same process: what it sends is framed and fed as bytes, what comes
// back is kept in order.
#pragma once

#include <chrono>
#include <condition_variable>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <utility>
#include <vector>

#include "cli/lsp/server.hpp"

namespace detent::test {

using cli::lsp::Json;

/// What most editors can do, in the form of `initialize`.
[[nodiscard]] Json usual_capabilities();

struct TalkWishes {
  bool prove = true;
  Json capabilities = usual_capabilities();
  std::map<std::string, std::string> files = {};  ///< by path; else the disk has only specs/
  std::chrono::milliseconds timeout{20'000};      ///< for each claim
  bool initialize = true;
};

class Talk {
 public:
  explicit Talk(TalkWishes wishes = {});

  /// The whole answer, after having waited for it.
  Json ask(const std::string& method, Json params = Json::object());
  /// Its result; fails the test if it is an error.
  Json result(const std::string& method, Json params = Json::object());
  /// Sends it, and returns its id without waiting.
  std::int64_t send_request(const std::string& method, Json params = Json::object());
  void notify(const std::string& method, Json params = Json::object());
  void feed(const std::string& bytes);

  void open(const std::string& uri, const std::string& text, int version = 1);
  void change(const std::string& uri, const Json& changes, int version);
  void save(const std::string& uri);
  void close(const std::string& uri);
  /// Lets the server do what is due, as if so much time had passed.
  void let_pass(std::chrono::milliseconds time);

  /// Waits until a message of which this is true has come, from message `from` on; null if none comes in
  /// time.
  Json wait(const std::function<bool(const Json&)>& wanted, std::size_t from = 0,
            std::chrono::milliseconds limit = std::chrono::seconds(60));
  [[nodiscard]] const std::vector<Json>& messages() const { return messages_; }
  /// What was published last for this URI; null if nothing was.
  [[nodiscard]] Json diagnostics(const std::string& uri) const;
  /// Waits until verdicts have come for all that goes on about this text, and returns its diagnostics.
  Json checked(const std::string& uri);
  [[nodiscard]] cli::lsp::Server& server() { return *server_; }
  [[nodiscard]] std::map<std::string, std::string>& files() { return wishes_.files; }

 private:
  TalkWishes wishes_;
  std::vector<Json> messages_;
  std::mutex mutex_;
  std::condition_variable rung_;
  bool bell_ = false;
  std::chrono::steady_clock::time_point now_ = std::chrono::steady_clock::now();
  std::int64_t last_id_ = 0;
  std::unique_ptr<cli::lsp::Server> server_;
};

/// The beginning of a design that has a name of every sort.
inline const std::string every_sort =
    "tick 20 ms\nchannel x from 0 to 9\nswitch sw is safe | run\nbutton b\nlink radio carries x lost: as "
    "before\n"
    "tunable patience = 40 ms from 20 ms to 80 ms\npart edge(condition c)\n  signal first = "
    "rises(c)\nend\nuse e = edge(b)\n";

/// {"textDocument": {"uri": …}}, and with a position.
[[nodiscard]] Json about(const std::string& uri);
[[nodiscard]] Json about(const std::string& uri, std::size_t line, std::size_t character);
/// At the first character of `word`, which must stand in the text; of the occurrence so many after the first.
[[nodiscard]] Json about_word(const std::string& uri, const std::string& text, const std::string& word,
                              std::size_t occurrence = 0);
/// The text in a range (UTF-16) of another.
[[nodiscard]] std::string text_in(const std::string& text, const Json& range);

/// A claim that takes any engine longer than anybody waits: so many pigeons and a hole too few (Haken, "The
/// intractability of resolution", TCS 39, 1985), one button for each pigeon in each hole.
[[nodiscard]] std::string endless_design();

}  // namespace detent::test
