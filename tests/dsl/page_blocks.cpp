#include "page_blocks.hpp"

#include <fmt/format.h>

#include <sstream>
#include <stdexcept>

namespace detent::test {
namespace {

constexpr std::string_view fence = "```";

class PageReader {
 public:
  Page read(const std::string& markdown) {
    for (const std::string& line : lines_of(markdown)) {
      ++line_;
      if (!line.starts_with(fence)) {
        text_ += inside_ ? line + "\n" : "";
      } else if (inside_) {
        close();
      } else {
        open(line.substr(fence.size()));
      }
    }
    if (inside_) throw std::runtime_error("a block is not closed");
    return std::move(page_);
  }

 private:
  void open(const std::string& kind) {
    inside_ = true;
    kind_ = kind;
    text_.clear();
    opened_ = line_;
  }

  void close() {
    inside_ = false;
    constexpr std::string_view mistake = "detent mistake ";
    constexpr std::string_view file = "detent file ";
    if (kind_ == "detent") {
      page_.designs.push_back({opened_, text_, "", {}, {}});
    } else if (kind_.starts_with(mistake)) {
      page_.designs.push_back({opened_, text_, kind_.substr(mistake.size()), {}, {}});
    } else if (kind_.starts_with(file)) {
      page_.files[kind_.substr(file.size())] = text_;
    } else if (kind_ == "ticks") {
      last_design().ticks.push_back(text_);
    } else if (kind_ == "verdicts") {
      last_design().verdicts.push_back(text_);
    } else if (kind_ != "text") {
      throw std::runtime_error(fmt::format("line {}: no block is of the kind '{}'", opened_, kind_));
    }
  }

  DesignBlock& last_design() {
    if (page_.designs.empty()) throw std::runtime_error(fmt::format("line {}: no design", opened_));
    return page_.designs.back();
  }

  Page page_;
  bool inside_ = false;
  std::string kind_;
  std::string text_;
  std::size_t line_ = 0;
  std::size_t opened_ = 0;
};

}  // namespace

Page blocks_of(const std::string& markdown) {
  return PageReader().read(markdown);
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

}  // namespace detent::test
