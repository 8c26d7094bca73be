#include "cli/lsp/document.hpp"

#include <algorithm>
#include <utility>

#include "cli/lsp/uri.hpp"

namespace detent::cli::lsp {
namespace {

void apply(const Json& change, std::string& text, LineMap& lines, Encoding encoding) {
  const std::string& replacement = text_member(change, "text");
  if (!change.contains("range")) {
    text = replacement;
  } else {
    const Json& range = member(change, "range");
    const std::size_t one = lines.offset(text, read_position(member(range, "start")), encoding);
    const std::size_t other = lines.offset(text, read_position(member(range, "end")), encoding);
    const auto [begin, end] = std::minmax(one, other);
    text.replace(begin, end - begin, replacement);
  }
  lines = LineMap(text);
}

}  // namespace

Document::Document(std::string uri, std::string text, std::int64_t version)
    : uri_(std::move(uri)), path_(path_of(uri_)), text_(std::move(text)), lines_(text_), version_(version) {}

void Document::change(const Json& changes, std::int64_t version, Encoding encoding) {
  if (!changes.is_array()) throw RequestError(ErrorCode::invalid_params, "\"contentChanges\" must be a list");
  std::string text = text_;
  LineMap lines = lines_;
  bool whole = false;
  for (const Json& change : changes) {
    apply(change, text, lines, encoding);
    whole = whole || !change.contains("range");
  }
  lost_ = lost_ && !whole;
  text_ = std::move(text);
  lines_ = std::move(lines);
  version_ = version;
}

}  // namespace detent::cli::lsp
