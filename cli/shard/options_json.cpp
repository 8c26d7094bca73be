#include "cli/shard/options_json.hpp"

namespace detent::cli {
namespace {

/// What is not said is not there.
void add(Json& json, const char* name, const std::optional<std::string>& value) {
  if (value) json[name] = *value;
}

Json json_limits(const CommonOptions& options) {
  Json json = Json::object();
  add(json, "timeout", options.timeout);
  add(json, "total_timeout", options.total_timeout);
  add(json, "memory", options.memory);
  return json;
}

std::optional<std::string> word(const Strict& json, const char* name) {
  const auto found = json.maybe(name);
  return found ? std::optional(found->text()) : std::nullopt;
}

std::vector<std::string> words(const Strict& json) {
  std::vector<std::string> all;
  for (const Strict& one : json.items()) all.push_back(one.text());
  return all;
}

void read_limits(const Strict& json, CommonOptions& options) {
  json.only({"timeout", "total_timeout", "memory"});
  options.timeout = word(json, "timeout");
  options.total_timeout = word(json, "total_timeout");
  options.memory = word(json, "memory");
}

}  // namespace

Json json_options(const CheckOptions& options) {
  Json json{{"files", options.files}, {"claims", options.claims}, {"limits", json_limits(options)}};
  add(json, "within", options.within);
  return json;
}

Json json_options(const FaultsOptions& options) {
  Json json{{"file", options.study.file},
            {"faults", options.faults},
            {"pairs", options.pairs},
            {"limits", json_limits(options.study)}};
  add(json, "tolerance", options.tolerance);
  add(json, "bounce", options.bounce);
  return json;
}

Json json_options(const TuneOptions& options) {
  Json json{{"file", options.file}, {"together", options.together}, {"limits", json_limits(options)}};
  add(json, "only", options.only);
  add(json, "step", options.step);
  return json;
}

CheckOptions read_check_options(const Strict& json) {
  json.only({"files", "claims", "limits", "within"});
  CheckOptions options;
  options.files = words(json.at("files"));
  options.claims = words(json.at("claims"));
  options.within = word(json, "within");
  read_limits(json.at("limits"), options);
  if (options.files.empty()) json.at("files").refuse("names no design");
  return options;
}

FaultsOptions read_faults_options(const Strict& json) {
  json.only({"file", "faults", "pairs", "limits", "tolerance", "bounce"});
  FaultsOptions options;
  options.study.file = json.at("file").text();
  options.faults = words(json.at("faults"));
  options.pairs = json.at("pairs").truth();
  options.tolerance = word(json, "tolerance");
  options.bounce = word(json, "bounce");
  read_limits(json.at("limits"), options.study);
  return options;
}

TuneOptions read_tune_options(const Strict& json) {
  json.only({"file", "together", "limits", "only", "step"});
  TuneOptions options;
  options.file = json.at("file").text();
  options.together = words(json.at("together"));
  options.only = word(json, "only");
  options.step = word(json, "step");
  read_limits(json.at("limits"), options);
  if (options.together.size() != 0 && options.together.size() != 2)
    json.at("together").refuse("is no pair of names");
  return options;
}

}  // namespace detent::cli
