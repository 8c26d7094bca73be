#include "cli/line_editor.hpp"

#include <histedit.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <clocale>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <system_error>

namespace detent::cli {
namespace {

constexpr std::size_t longest_line = 64U * 1024U;
constexpr int history_lines = 1000;

// ---- A terminal ----

class Editor : public LineSource {
 public:
  explicit Editor(Completer completer) : completer_(std::move(completer)) {
    std::setlocale(LC_CTYPE, "");  // libedit counts characters by it
    editor_ = el_init("detent", stdin, stdout, stderr);
    history_ = history_init();
    HistEvent event{};
    history(history_, &event, H_SETSIZE, history_lines);
    history(history_, &event, H_SETUNIQUE, 1);
    load_history();
    el_set(editor_, EL_CLIENTDATA, this);
    el_set(editor_, EL_PROMPT, &Editor::prompt);
    el_set(editor_, EL_HIST, history, history_);
    el_set(editor_, EL_EDITOR, "emacs");
    el_set(editor_, EL_ADDFN, "detent-complete", "complete a word", &Editor::complete);
    el_set(editor_, EL_BIND, "^I", "detent-complete", nullptr);
    el_set(editor_, EL_ADDFN, "detent-stop", "drop the line, or end", &Editor::stop);
    el_set(editor_, EL_BIND, "^C", "detent-stop", nullptr);
    // While a line is typed Ctrl-C is a key like any other, so that the terminal is always left as it was
    // found.
    el_set(editor_, EL_SETTY, "-d", "-isig", nullptr);
  }
  ~Editor() override {
    save_history();
    history_end(history_);
    el_end(editor_);
  }

  bool next(const std::string& prompt, std::string& line) override {
    prompt_ = prompt;
    int count = 0;
    const char* typed = el_gets(editor_, &count);
    if (typed == nullptr || count <= 0) {
      std::fputs("\n", stdout);
      std::fflush(stdout);
      return false;
    }
    line.assign(typed, static_cast<std::size_t>(count));
    while (!line.empty() && (line.back() == '\n' || line.back() == '\r')) line.pop_back();
    HistEvent event{};
    if (!line.empty()) history(history_, &event, H_ENTER, line.c_str());
    return true;
  }
  [[nodiscard]] bool is_person() const override { return true; }

 private:
  static Editor* self(EditLine* editor) {
    void* data = nullptr;
    el_get(editor, EL_CLIENTDATA, &data);
    return static_cast<Editor*>(data);
  }

  static char* prompt(EditLine* editor) { return self(editor)->prompt_.data(); }

  static std::string common_beginning(const std::vector<std::string>& words) {
    std::string common = words.front();
    for (const std::string& word : words) {
      const auto end = std::mismatch(common.begin(), common.end(), word.begin(), word.end()).first;
      common.erase(end, common.end());
    }
    return common;
  }

  static unsigned char complete(EditLine* editor, int) {
    const LineInfo* line = el_line(editor);
    const std::string_view typed(line->buffer, static_cast<std::size_t>(line->cursor - line->buffer));
    const Completions found = self(editor)->completer_(typed);
    if (found.words.empty()) return CC_REFRESH_BEEP;
    std::string more = common_beginning(found.words).substr(found.part.size());
    if (found.words.size() == 1) more += ' ';
    if (!more.empty()) return el_insertstr(editor, more.c_str()) == 0 ? CC_REFRESH : CC_ERROR;
    std::fputs("\n", stdout);
    for (const std::string& word : found.words) std::fprintf(stdout, "  %s\n", word.c_str());
    std::fflush(stdout);
    return CC_REDISPLAY;
  }

  static unsigned char stop(EditLine* editor, int) {
    const LineInfo* line = el_line(editor);
    if (line->lastchar == line->buffer) return CC_EOF;
    el_cursor(editor, static_cast<int>(line->lastchar - line->cursor));
    el_deletestr(editor, static_cast<int>(line->lastchar - line->buffer));
    return CC_REFRESH;
  }

  static std::filesystem::path history_file() {
    const char* state = std::getenv("XDG_STATE_HOME");
    if (state == nullptr || state[0] != '/') return {};
    return std::filesystem::path(state) / "detent" / "history";
  }

  void load_history() {
    HistEvent event{};
    const std::filesystem::path file = history_file();
    if (!file.empty()) history(history_, &event, H_LOAD, file.c_str());
  }

  /// Where it can't be written there is none; that is no reason to complain.
  void save_history() {
    HistEvent event{};
    const std::filesystem::path file = history_file();
    if (file.empty()) return;
    std::error_code ignored;
    std::filesystem::create_directories(file.parent_path(), ignored);
    history(history_, &event, H_SAVE, file.c_str());
  }

  Completer completer_;
  std::string prompt_;
  EditLine* editor_ = nullptr;
  History* history_ = nullptr;
};

// ---- Anything else ----

class Plain : public LineSource {
 public:
  explicit Plain(LongLine long_line) : long_line_(long_line) {}

  bool next(const std::string&, std::string& line) override {
    line.clear();
    while (true) {
      if (trouble_) return false;
      if (at_ == filled_ && !fill()) return !line.empty() && !trouble_;
      const char letter = buffer_[at_++];
      if (letter == '\n') break;
      if (line.size() == longest_line && long_line_ == LongLine::cut) continue;
      if (line.size() == longest_line) {
        trouble_ = {"the line is longer than 64 KiB", "part it: every line may hold some of the commands",
                    true};
        return false;
      }
      line += letter;
    }
    if (!line.empty() && line.back() == '\r') line.pop_back();
    return true;
  }
  [[nodiscard]] bool is_person() const override { return false; }

 private:
  bool fill() {
    ssize_t count = -1;
    do {
      count = read(STDIN_FILENO, buffer_.data(), buffer_.size());
    } while (count < 0 && errno == EINTR);
    if (count < 0) {
      const bool closed = errno == EBADF;
      trouble_ = {closed ? "it is closed, so there are no commands" : std::generic_category().message(errno),
                  "give commands: type them, or redirect a file or a pipe to it"};
    }
    at_ = 0;
    filled_ = count > 0 ? static_cast<std::size_t>(count) : 0;
    return filled_ > 0;
  }

  LongLine long_line_;
  std::array<char, 4096> buffer_{};
  std::size_t at_ = 0, filled_ = 0;
};

}  // namespace

std::unique_ptr<LineSource> line_editor(Completer completer) {
  return std::make_unique<Editor>(std::move(completer));
}

std::unique_ptr<LineSource> plain_lines(LongLine long_line) {
  return std::make_unique<Plain>(long_line);
}

}  // namespace detent::cli
