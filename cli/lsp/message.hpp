// JSON-RPC 2.0 messages, and what of them can be wrong.
#pragma once

#include <cstdint>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>
#include <variant>

namespace detent::cli::lsp {

/// Members need no order here, and a client may send many.
using Json = nlohmann::json;

/// The numbers that LSP 3.17 and JSON-RPC 2.0 give to what went wrong.
enum class ErrorCode : int {
  parse_error = -32700,
  invalid_request = -32600,
  method_not_found = -32601,
  invalid_params = -32602,
  internal_error = -32603,
  not_initialized = -32002,
  request_failed = -32803,
  content_modified = -32801,
  cancelled = -32800,
};

/// Thrown by whatever answers a request, and sent as the answer.
struct RequestError : std::runtime_error {
  RequestError(ErrorCode number, const std::string& what) : std::runtime_error(what), code(number) {}
  ErrorCode code;
};

struct Message {
  std::string method = {};  ///< "" for a response
  Json id = nullptr;        ///< null for a notification
  Json params = nullptr;
  bool failed = false;  ///< a response that is an error
};

/// A message, or an answer that says why it is none.
[[nodiscard]] std::variant<Message, Json> read_message(const std::string& body);

[[nodiscard]] Json response(const Json& id, Json result);
[[nodiscard]] Json error_response(const Json& id, ErrorCode code, const std::string& what);
[[nodiscard]] Json notification(const std::string& method, Json params);
[[nodiscard]] Json request(std::int64_t id, const std::string& method, Json params);

/// Without line ends; what is no UTF-8 is replaced.
[[nodiscard]] std::string text_of(const Json& message);

// What a client says; each throws RequestError (invalid_params) where it is missing or of another kind.
[[nodiscard]] const Json& member(const Json& object, const char* name);
[[nodiscard]] const std::string& text_member(const Json& object, const char* name);
/// At least 0; what is more than 32 bits hold counts as the largest.
[[nodiscard]] std::uint32_t number_member(const Json& object, const char* name);

/// Whether a client says `true` at this path of its capabilities: "/textDocument/inlayHint".
[[nodiscard]] bool says_yes(const Json& object, const char* pointer);
[[nodiscard]] bool has(const Json& object, const char* pointer);
/// Whether the list at this path holds the text.
[[nodiscard]] bool lists(const Json& object, const char* pointer, const std::string& text);

}  // namespace detent::cli::lsp
