#include "cli/lsp/message.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <utility>

namespace detent::cli::lsp {
namespace {

/// No message of the protocol is nested this deeply; a deeper one would only cost memory.
constexpr int deepest_message = 100;

struct TooDeep : std::runtime_error {
  TooDeep() : std::runtime_error("the message is nested too deeply") {}
};

/// Editors whose texts are UTF-16 may send half of a pair of escapes (\ud800 alone), which is no character:
/// U+FFFD stands for it, one unit as well, so that all places stay.
std::string with_whole_pairs(std::string body) {
  static constexpr std::string_view hex = "0123456789abcdefABCDEF";
  const auto unit_at = [&](std::size_t at) -> unsigned {
    if (at + 6 > body.size() || body[at] != '\\' || body[at + 1] != 'u') return 0;
    const std::string digits = body.substr(at + 2, 4);
    return digits.find_first_not_of(hex) == std::string::npos
               ? static_cast<unsigned>(std::stoul(digits, nullptr, 16))
               : 0;
  };
  for (std::size_t at = body.find('\\'); at < body.size(); at = body.find('\\', at)) {
    const unsigned unit = unit_at(at);
    const unsigned next = unit >> 10U == 0xD800U >> 10U ? unit_at(at + 6) : 0;
    const bool pair = next >> 10U == 0xDC00U >> 10U;
    if (unit >> 11U == 0xD800U >> 11U && !pair) body.replace(at, 6, "\\ufffd");
    at += pair ? 12 : unit != 0 ? 6 : 2;
  }
  return body;
}

Json parsed(const std::string& body) {
  return Json::parse(with_whole_pairs(body), [](int depth, Json::parse_event_t, Json&) {
    if (depth > deepest_message) throw TooDeep();
    return true;
  });
}

bool is_id(const Json& id) {
  return id.is_number_integer() || id.is_string();
}

Json invalid(const Json& json, const std::string& what) {
  const bool known = json.is_object() && json.contains("id") && is_id(json["id"]);
  return error_response(known ? json["id"] : Json(), ErrorCode::invalid_request, what);
}

std::variant<Message, Json> checked(Json json) {
  if (!json.is_object()) return invalid(json, "a message is an object");
  const bool versioned = json.contains("jsonrpc") && json["jsonrpc"] == "2.0";
  if (!versioned) return invalid(json, "\"jsonrpc\" must be \"2.0\"");
  if (json.contains("id") && !is_id(json["id"]) && !(json["id"].is_null() && !json.contains("method"))) {
    return invalid(json, "\"id\" must be a whole number or a text");
  }
  Message message;
  if (json.contains("id")) message.id = std::move(json["id"]);
  if (json.contains("method")) {
    if (!json["method"].is_string() || json["method"].get_ref<const std::string&>().empty()) {
      return invalid({{"id", message.id}}, "\"method\" must be a text");
    }
    message.method = std::move(json["method"].get_ref<std::string&>());
    if (json.contains("params")) message.params = std::move(json["params"]);
    return message;
  }
  if (!json.contains("result") && !json.contains("error")) {
    return invalid({{"id", message.id}}, "a message has a \"method\", a \"result\" or an \"error\"");
  }
  message.failed = json.contains("error");
  return message;
}

const Json* at(const Json& object, const char* pointer) {
  const Json::json_pointer path(pointer);
  return object.contains(path) ? &object[path] : nullptr;
}

RequestError missing(const char* name, const char* what) {
  return {ErrorCode::invalid_params, fmt::format("\"{}\" {}", name, what)};
}

}  // namespace

std::variant<Message, Json> read_message(const std::string& body) {
  try {
    return checked(parsed(body));
  } catch (const Json::parse_error& problem) {
    return error_response(nullptr, ErrorCode::parse_error,
                          fmt::format("the message is no JSON, from its byte {} on", problem.byte));
  } catch (const Json::exception& problem) {
    return error_response(nullptr, ErrorCode::parse_error, problem.what());
  } catch (const TooDeep& problem) {
    return error_response(nullptr, ErrorCode::parse_error, problem.what());
  }
}

Json response(const Json& id, Json result) {
  return {{"jsonrpc", "2.0"}, {"id", id}, {"result", std::move(result)}};
}

Json error_response(const Json& id, ErrorCode code, const std::string& what) {
  return {{"jsonrpc", "2.0"}, {"id", id}, {"error", {{"code", static_cast<int>(code)}, {"message", what}}}};
}

Json notification(const std::string& method, Json params) {
  return {{"jsonrpc", "2.0"}, {"method", method}, {"params", std::move(params)}};
}

Json request(std::int64_t id, const std::string& method, Json params) {
  return {{"jsonrpc", "2.0"}, {"id", id}, {"method", method}, {"params", std::move(params)}};
}

std::string text_of(const Json& message) {
  return message.dump(-1, ' ', false, Json::error_handler_t::replace);
}

const Json& member(const Json& object, const char* name) {
  if (!object.is_object() || !object.contains(name)) throw missing(name, "is missing");
  return object[name];
}

const std::string& text_member(const Json& object, const char* name) {
  const Json& value = member(object, name);
  if (!value.is_string()) throw missing(name, "must be a text");
  return value.get_ref<const std::string&>();
}

std::uint32_t number_member(const Json& object, const char* name) {
  const Json& value = member(object, name);
  if (!value.is_number_integer() || value < 0) throw missing(name, "must be a whole number, 0 or more");
  constexpr std::uint64_t largest = std::numeric_limits<std::uint32_t>::max();
  return static_cast<std::uint32_t>(std::min(value.get<std::uint64_t>(), largest));
}

bool says_yes(const Json& object, const char* pointer) {
  const Json* value = at(object, pointer);
  return value != nullptr && value->is_boolean() && value->get<bool>();
}

bool has(const Json& object, const char* pointer) {
  const Json* value = at(object, pointer);
  return value != nullptr && !value->is_null();
}

bool lists(const Json& object, const char* pointer, const std::string& text) {
  const Json* value = at(object, pointer);
  return value != nullptr && value->is_array() &&
         std::find(value->begin(), value->end(), text) != value->end();
}

}  // namespace detent::cli::lsp
