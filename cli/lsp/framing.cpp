#include "cli/lsp/framing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <system_error>

namespace detent::cli::lsp {
namespace {

constexpr std::string_view header_end = "\r\n\r\n";

std::string lower(std::string_view text) {
  std::string low(text);
  for (char& byte : low) {
    if (byte >= 'A' && byte <= 'Z') byte = static_cast<char>(byte - 'A' + 'a');
  }
  return low;
}

std::string_view trimmed(std::string_view text) {
  const std::size_t begin = std::min(text.find_first_not_of(" \t"), text.size());
  const std::size_t end = text.find_last_not_of(" \t");
  return end == std::string_view::npos ? "" : text.substr(begin, end + 1 - begin);
}

/// Only UTF-8 is spoken; `utf8` is what older clients call it.
bool is_other_charset(const std::string& type) {
  const std::size_t at = type.find("charset=");
  if (at == std::string::npos) return false;
  const std::string_view rest = std::string_view(type).substr(at + 8);
  return !rest.starts_with("utf-8") && !rest.starts_with("utf8") && !rest.starts_with("\"utf-8\"");
}

}  // namespace

void Framing::read_field(std::string_view line, Header& header) {
  const std::size_t colon = line.find(':');
  if (colon == std::string_view::npos) {
    header.problem = "a line of the header has no ':'";
    return;
  }
  const std::string name = lower(trimmed(line.substr(0, colon)));
  const std::string_view value = trimmed(line.substr(colon + 1));
  if (name == "content-type" && is_other_charset(lower(value))) {
    header.problem = "only UTF-8 is spoken here";
  } else if (name == "content-length") {
    std::size_t length = 0;
    const auto [end, error] = std::from_chars(value.data(), value.data() + value.size(), length);
    if (error != std::errc() || end != value.data() + value.size() || value.empty()) {
      header.problem = "Content-Length is no number of bytes";
    } else {
      header.length = length;
    }
  }
}

Framing::Header Framing::read_header(std::string_view text) {
  Header header;
  while (!text.empty()) {
    const std::size_t end = text.find("\r\n");
    read_field(text.substr(0, end), header);
    text = end == std::string_view::npos ? "" : text.substr(end + 2);
  }
  if (!header.length && header.problem.empty()) header.problem = "the header has no Content-Length";
  if (header.length && *header.length > longest_body) {
    header.problem = fmt::format("a message may have {} bytes at most", longest_body);
  }
  return header;
}

void Framing::feed(std::string_view bytes) {
  const std::size_t skipped = std::min(to_skip_, bytes.size());
  to_skip_ -= skipped;
  bytes.remove_prefix(skipped);
  bytes_.erase(0, at_);
  at_ = 0;
  bytes_.append(bytes);
}

/// Where a header did not say how long its message is, the next one is looked for by its first word.
bool Framing::find_again() {
  constexpr std::string_view word = "content-length:";
  const std::string text = lower(rest());
  const std::size_t found = text.find(word);
  lost_ = found == std::string::npos;
  at_ += lost_ ? text.size() - std::min(text.size(), word.size() - 1) : found;
  return !lost_;
}

std::optional<Frame> Framing::take_header() {
  if (lost_ && !find_again()) return std::nullopt;
  const std::size_t size = rest().substr(0, longest_header).find(header_end);
  if (size == std::string_view::npos) {
    if (rest().size() < longest_header) return std::nullopt;
    at_ += longest_header - (header_end.size() - 1);  // its end may have begun here
    return Frame{.problem = "a header without an end"};
  }
  const Header header = read_header(rest().substr(0, size));
  at_ += size + header_end.size();
  if (header.problem.empty()) {
    body_ = header.length;
    return std::nullopt;
  }
  lost_ = !header.length;
  const std::size_t here = std::min(header.length.value_or(0), rest().size());
  to_skip_ = header.length.value_or(0) - here;
  at_ += here;
  return Frame{.problem = header.problem};
}

std::optional<Frame> Framing::next() {
  if (!body_) {
    if (auto problem = take_header()) return problem;
  }
  if (!body_ || rest().size() < *body_) return std::nullopt;
  Frame frame{.body = std::string(rest().substr(0, *body_))};
  at_ += *body_;
  body_.reset();
  return frame;
}

std::string framed(std::string_view body) {
  return fmt::format("Content-Length: {}\r\n\r\n{}", body.size(), body);
}

}  // namespace detent::cli::lsp
