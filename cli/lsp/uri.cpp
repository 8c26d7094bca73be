#include "cli/lsp/uri.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <optional>
#include <string_view>
#include <system_error>

namespace detent::cli::lsp {
namespace {

constexpr std::string_view file_scheme = "file://";

std::optional<int> hex_digit(char byte) {
  if (byte >= '0' && byte <= '9') return byte - '0';
  if (byte >= 'a' && byte <= 'f') return byte - 'a' + 10;
  if (byte >= 'A' && byte <= 'F') return byte - 'A' + 10;
  return std::nullopt;
}

/// A percent sign that no two digits follow stands for itself.
std::string decoded(std::string_view text) {
  std::string plain;
  for (std::size_t at = 0; at < text.size(); ++at) {
    const bool room = text[at] == '%' && at + 2 < text.size();
    const auto high = room ? hex_digit(text[at + 1]) : std::nullopt;
    const auto low = room ? hex_digit(text[at + 2]) : std::nullopt;
    if (high && low) {
      plain += static_cast<char>(*high * 16 + *low);
      at += 2;
    } else {
      plain += text[at];
    }
  }
  return plain;
}

/// What RFC 3986 calls unreserved, and the stroke between folders.
bool stays(char byte) {
  const bool letter = (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z');
  return letter || (byte >= '0' && byte <= '9') ||
         std::string_view("-._~/").find(byte) != std::string_view::npos;
}

}  // namespace

std::string path_of(const std::string& uri) {
  if (!uri.starts_with(file_scheme)) return uri;
  std::string_view rest = std::string_view(uri).substr(file_scheme.size());
  if (rest.starts_with("localhost/")) rest.remove_prefix(std::string_view("localhost").size());
  return std::filesystem::path(decoded(rest.substr(0, rest.find_first_of("?#"))))
      .lexically_normal()
      .generic_string();
}

std::string uri_of(const std::string& path) {
  std::error_code problem;
  const std::filesystem::path whole = std::filesystem::absolute(path, problem);
  std::string uri(file_scheme);
  for (const char byte : problem ? path : whole.lexically_normal().generic_string()) {
    if (stays(byte)) {
      uri += byte;
    } else {
      uri += fmt::format("%{:02X}", static_cast<unsigned char>(byte));
    }
  }
  return uri;
}

}  // namespace detent::cli::lsp
