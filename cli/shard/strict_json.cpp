#include "cli/shard/strict_json.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string_view>

namespace detent::cli {
namespace {

/// Sums of counters stay far below what a number can hold.
constexpr std::uint64_t largest_counter = 1'000'000'000'000'000;
constexpr double longest_seconds = 1e12;

std::string seen(const Json& json) {
  constexpr std::size_t enough = 40;
  const std::string text = json.dump(-1, ' ', true, Json::error_handler_t::replace);
  return text.size() > enough ? text.substr(0, enough) + "…" : text;
}

}  // namespace

void Strict::refuse(const std::string& why) const {
  throw Misfit{fmt::format("{}: {}", path_.empty() ? "the document" : path_, why)};
}

void Strict::demand(bool good, const std::string& what) const {
  if (!good) refuse(fmt::format("{} is no {}", seen(*json_), what));
}

std::optional<Strict> Strict::maybe(const std::string& member) const {
  demand(json_->is_object(), "object");
  const auto found = json_->find(member);
  if (found == json_->end()) return std::nullopt;
  return Strict(*found, path_.empty() ? member : path_ + "." + member);
}

Strict Strict::at(const std::string& member) const {
  const std::optional<Strict> found = maybe(member);
  if (!found) refuse(fmt::format("has no '{}'", member));
  return *found;
}

const Strict& Strict::only(std::initializer_list<const char*> members) const {
  demand(json_->is_object(), "object");
  for (auto member = json_->begin(); member != json_->end(); ++member) {
    const std::string& name = member.key();
    if (std::find(members.begin(), members.end(), name) != members.end()) continue;
    refuse(fmt::format("has a member '{}', which does not belong there", name.substr(0, 40)));
  }
  return *this;
}

std::vector<Strict> Strict::items() const {
  demand(json_->is_array(), "list");
  std::vector<Strict> all;
  for (std::size_t index = 0; index < json_->size(); ++index) {
    all.emplace_back((*json_)[index], fmt::format("{}[{}]", path_, index));
  }
  return all;
}

std::int64_t Strict::whole(std::int64_t low, std::int64_t high) const {
  const std::string what = fmt::format("whole number from {} to {}", low, high);
  demand(json_->is_number_integer(), what);
  // An unsigned number beyond the signed ones would turn negative.
  const bool small =
      !json_->is_number_unsigned() || json_->get<std::uint64_t>() <= static_cast<std::uint64_t>(INT64_MAX);
  demand(small && json_->get<std::int64_t>() >= low && json_->get<std::int64_t>() <= high, what);
  return json_->get<std::int64_t>();
}

std::size_t Strict::index(std::size_t count) const {
  if (count == 0) refuse("there is nothing that it could be a number of");
  return static_cast<std::size_t>(whole(0, static_cast<std::int64_t>(count) - 1));
}

std::uint64_t Strict::counter() const {
  return static_cast<std::uint64_t>(whole(0, static_cast<std::int64_t>(largest_counter)));
}

double Strict::seconds() const {
  const char* what = "number of seconds";
  demand(json_->is_number(), what);
  const auto value = json_->get<double>();
  demand(std::isfinite(value) && value >= 0 && value <= longest_seconds, what);
  return value;
}

std::string Strict::text() const {
  demand(json_->is_string(), "text");
  return json_->get<std::string>();
}

bool Strict::truth() const {
  demand(json_->is_boolean(), "true or false");
  return json_->get<bool>();
}

Json parse_strictly(std::string_view text, std::string& twice) {
  std::vector<std::set<std::string>> open;
  const auto look = [&](int, Json::parse_event_t event, const Json& parsed) {
    if (event == Json::parse_event_t::object_start) open.emplace_back();
    if (event == Json::parse_event_t::object_end) open.pop_back();
    if (event == Json::parse_event_t::key && twice.empty()) {
      const auto& name = parsed.get_ref<const std::string&>();
      if (!open.back().insert(name).second) twice = name;
    }
    return true;
  };
  return Json::parse(text, look, false);
}

}  // namespace detent::cli
