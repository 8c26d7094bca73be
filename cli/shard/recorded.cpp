// A text that is no UTF-8 is a mistake that the front end tells; it must be the same mistake when it is told
// again, and JSON holds no such text. So its bytes are written as hexadecimal digits.
#include "cli/shard/recorded.hpp"

#include <algorithm>
#include <array>
#include <string_view>

#include "cli/reader.hpp"

namespace detent::cli {
namespace {

constexpr std::string_view digits = "0123456789abcdef";

bool fits_json(const std::string& text) {
  try {
    static_cast<void>(Json(text).dump());
    return true;
  } catch (const Json::type_error&) {
    return false;
  }
}

std::string as_digits(const std::string& text) {
  std::string out;
  for (const char one : text) {
    const auto byte = static_cast<unsigned char>(one);
    out += digits[byte / 16U];
    out += digits[byte % 16U];
  }
  return out;
}

std::string from_digits(const Strict& json) {
  const std::string text = json.text();
  if (text.size() % 2 != 0 || text.find_first_not_of(digits) != std::string::npos) {
    json.refuse("is no bytes in hexadecimal digits");
  }
  std::string out;
  for (std::size_t index = 0; index < text.size(); index += 2) {
    out += static_cast<char>(digits.find(text[index]) * 16 + digits.find(text[index + 1]));
  }
  return out;
}

}  // namespace

dsl::Compiled compile_recorded(const std::string& file, Recording& recording) {
  const dsl::FileReader read = file_reader(file);
  return dsl::compile(source_name(file), [&](const std::string& path) {
    dsl::FileText text = read(path);
    recording.insert_or_assign(path, text);
    return text;
  });
}

dsl::Compiled compile_again(const std::string& file, const Recording& recording) {
  return dsl::compile(source_name(file), [&](const std::string& path) {
    const auto found = recording.find(path);
    return found == recording.end() ? dsl::FileText{.text = {}, .problem = "does not exist"} : found->second;
  });
}

Json json_recording(const Recording& recording) {
  Json all = Json::array();
  for (const auto& [name, file] : recording) {
    Json json{{"name", name}};
    if (!file.text) {
      json["problem"] = file.problem;
      json["too_large"] = file.too_large;
    } else if (fits_json(*file.text)) {
      json["text"] = *file.text;
    } else {
      json["bytes"] = as_digits(*file.text);
    }
    all.push_back(std::move(json));
  }
  return all;
}

Recording read_recording(const Strict& json) {
  Recording recording;
  for (const Strict& one : json.items()) {
    one.only({"name", "text", "bytes", "problem", "too_large"});
    dsl::FileText file;
    if (const auto text = one.maybe("text")) {
      file.text = text->text();
    } else if (const auto bytes = one.maybe("bytes")) {
      file.text = from_digits(*bytes);
    } else {
      file.problem = one.at("problem").text();
      file.too_large = one.at("too_large").truth();
    }
    if (!recording.try_emplace(one.at("name").text(), std::move(file)).second) one.refuse("is there twice");
  }
  return recording;
}

}  // namespace detent::cli
