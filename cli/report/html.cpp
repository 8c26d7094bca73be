#include "cli/report/html.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>

#include "cli/page.hpp"

namespace detent::cli::report {

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : printable_lines(text, true)) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string for_script(std::string json) {
  std::string out;
  out.reserve(json.size());
  for (const char c : json) c == '<' ? out += "\\u003c" : out += c;
  return out;
}

std::string length(double number) {
  std::string text = fmt::format("{:.1f}", number);
  if (text.ends_with(".0")) text.resize(text.size() - 2);
  return text;
}

void Html::begin(const char* tag, const Attributes& attributes) {
  out_ += '<';
  out_ += tag;
  for (const auto& [name, value] : attributes) {
    out_ += ' ';
    out_ += name;
    out_ += "=\"" + escaped(value) + '"';
  }
  out_ += '>';
}

void Html::open(const char* tag, const Attributes& attributes) {
  begin(tag, attributes);
  open_.push_back(tag);
}

void Html::close() {
  assert(!open_.empty());
  out_ += "</";
  out_ += open_.back();
  out_ += '>';
  open_.pop_back();
}

void Html::lone(const char* tag, const Attributes& attributes) {
  begin(tag, attributes);
  out_ += '\n';
}

void Html::element(const char* tag, const Attributes& attributes, std::string_view text) {
  open(tag, attributes);
  out_ += escaped(text);
  close();
}

void Html::text(std::string_view text) {
  out_ += escaped(text);
}

void Html::name(std::string_view text) {
  while (!text.empty()) {
    const std::size_t end = std::min(text.find_first_of("_."), text.size() - 1) + 1;
    out_ += escaped(text.substr(0, end));
    text.remove_prefix(end);
    if (!text.empty()) out_ += "<wbr>";
  }
}

void Html::raw(std::string_view text) {
  out_ += text;
}

std::string Html::take() {
  assert(open_.empty());
  return std::move(out_);
}

}  // namespace detent::cli::report
