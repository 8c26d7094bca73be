// The base protocol of LSP 3.17: a header that says how long the body is, then the body. Bytes come as they
// come; whole messages go out.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace detent::cli::lsp {

/// The longest header and the longest body that are taken. A design has at most 4 MiB, and JSON may need six
/// bytes for one.
inline constexpr std::size_t longest_header = 8192;
inline constexpr std::size_t longest_body = std::size_t{64} * 1024 * 1024;

/// What has come whole: a body, or in words what was wrong with what should have been one.
struct Frame {
  std::string body = {};
  std::string problem = {};
};

/// Whatever bytes are fed, nothing is kept but a header and a body within the limits. A body that is too
/// long, or of another encoding, is passed over; behind a header that can't be read, reading starts afresh
/// with the next that says how long its message is.
class Framing {
 public:
  void feed(std::string_view bytes);
  /// The next that is whole; nothing until more bytes come.
  [[nodiscard]] std::optional<Frame> next();

 private:
  struct Header {
    std::optional<std::size_t> length = {};
    std::string problem = {};
  };
  static Header read_header(std::string_view text);
  static void read_field(std::string_view line, Header& header);
  bool find_again();
  std::optional<Frame> take_header();
  [[nodiscard]] std::string_view rest() const { return std::string_view(bytes_).substr(at_); }

  std::string bytes_;
  std::size_t at_ = 0;                    ///< what lies before has been read
  std::optional<std::size_t> body_ = {};  ///< the length of the body that comes now
  bool lost_ = false;                     ///< where the next message begins is not known
  std::size_t to_skip_ = 0;               ///< bytes of a body that is passed over
};

/// A body as it is sent.
[[nodiscard]] std::string framed(std::string_view body);

}  // namespace detent::cli::lsp
