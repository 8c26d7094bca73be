#include "tests/support/markup.hpp"

#include <array>
#include <regex>
#include <set>

namespace detent::test {
namespace {

const std::set<std::string> lone{"area",  "br",   "col",  "embed",  "hr",    "img",
                                 "input", "link", "meta", "source", "track", "wbr"};

std::string unescaped(std::string text) {
  static const std::array<std::pair<std::string, std::string>, 5> pairs{
      {{"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}, {"&#39;", "'"}, {"&amp;", "&"}}};
  for (const auto& [from, to] : pairs) {
    for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) {
      text.replace(at, from.size(), to);
    }
  }
  return text;
}

class Reader {
 public:
  explicit Reader(const std::string& html) : html_(html) {}

  Markup read() {
    if (!html_.starts_with("<!DOCTYPE html>")) complain("does not begin with <!DOCTYPE html>");
    at_ = html_.find('>') + 1;
    while (at_ < html_.size()) html_[at_] == '<' ? read_tag() : read_text();
    for (const std::string& name : open_) complain("never closed: " + name);
    return std::move(markup_);
  }

 private:
  void complain(const std::string& what) {
    if (markup_.mistakes.size() < 20) markup_.mistakes.push_back(what);
  }

  void read_text() {
    const std::size_t end = std::min(html_.find('<', at_), html_.size());
    const std::string text = html_.substr(at_, end - at_);
    static const std::regex stray("&(?!(lt|gt|quot|amp|#39);)|>");
    if (std::regex_search(text, stray)) complain("not escaped: " + text.substr(0, 60));
    markup_.text += unescaped(text) + '\n';
    at_ = end;
  }

  void read_tag() {
    const std::size_t end = end_of_tag();
    const std::string whole = html_.substr(at_ + 1, end - at_ - 1);
    at_ = end + 1;
    if (whole.starts_with("/")) return close(whole.substr(1));
    Tag tag = tag_of(whole);
    if (tag.name == "style" || tag.name == "script") {
      at_ = std::min(html_.find("</" + tag.name + ">", at_), html_.size());
    }
    if (lone.count(tag.name) == 0) open_.push_back(tag.name);
    markup_.tags.push_back(std::move(tag));
  }

  /// A ">" in quotes ends no tag.
  [[nodiscard]] std::size_t end_of_tag() const {
    bool quoted = false;
    for (std::size_t i = at_; i < html_.size(); ++i) {
      if (html_[i] == '"') quoted = !quoted;
      if (html_[i] == '>' && !quoted) return i;
    }
    return html_.size();
  }

  Tag tag_of(const std::string& whole) {
    static const std::regex form("([a-zA-Z][a-zA-Z0-9]*)((?: [a-zA-Z0-9-]+=\"[^\"<]*\")*)");
    static const std::regex attribute(" ([a-zA-Z0-9-]+)=\"([^\"<]*)\"");
    std::smatch parts;
    if (!std::regex_match(whole, parts, form)) {
      complain("no well-formed tag: <" + whole.substr(0, 80) + ">");
      return {};
    }
    Tag tag{.name = parts[1], .attributes = {}};
    const std::string rest = parts[2];
    for (std::sregex_iterator one(rest.begin(), rest.end(), attribute), end; one != end; ++one) {
      if (!tag.attributes.emplace((*one)[1], (*one)[2]).second)
        complain("twice in one tag: " + (*one)[1].str());
    }
    return tag;
  }

  void close(const std::string& name) {
    if (open_.empty() || open_.back() != name) {
      complain("closed out of order: " + name + (open_.empty() ? "" : " in " + open_.back()));
      return;
    }
    open_.pop_back();
  }

  const std::string& html_;
  std::size_t at_ = 0;
  std::vector<std::string> open_;
  Markup markup_;
};

}  // namespace

Markup read_markup(const std::string& html) {
  return Reader(html).read();
}

}  // namespace detent::test
