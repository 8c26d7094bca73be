#include "tests/shards/sweep.hpp"

#include <algorithm>
#include <array>
#include <boost/crc.hpp>
#include <cstdio>
#include <fstream>
#include <sstream>

#include "tests/support/catch.hpp"

namespace detent::test {

using nlohmann::json;
using nlohmann::ordered_json;

namespace {

std::vector<std::string> with(std::vector<std::string> words, const std::vector<std::string>& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

void strip(json& node) {
  if (node.is_object()) {
    for (const char* name : {"cost", "statistics", "proved_with"}) node.erase(name);
    if (node.contains("standing")) node.erase("ticks");
    if (node.contains("run") && node.contains("standing")) node["run"] = "its own test";
  }
  for (json& child : node) {
    if (child.is_structured()) strip(child);
  }
}

}  // namespace

std::vector<std::string> write_shards(const Folder& folder, const std::vector<std::string>& words,
                                      std::size_t of) {
  std::vector<std::string> files;
  for (std::size_t number = 1; number <= of; ++number) {
    const std::string shard = std::to_string(number) + "/" + std::to_string(of);
    const ProcessResult result = run_detent(with(words, {"--shard", shard}));
    INFO(shard << "\n" << result.errors);
    CHECK((result.status == 0 || result.status == 3));  // 3: a limit left something in it undecided
    CHECK(result.errors.empty());
    files.push_back(
        folder.write(std::to_string(number) + "_of_" + std::to_string(of) + ".json", result.output));
  }
  return files;
}

ProcessResult merged(const std::vector<std::string>& files, const std::vector<std::string>& more) {
  return run_detent(with(with({"merge"}, files), more));
}

json comparable(const std::string& report) {
  json document = json::parse(report);
  strip(document);
  return document;
}

void check_same(const std::vector<std::string>& words, const std::vector<std::size_t>& counts) {
  const ProcessResult text = run_detent(words);
  const ProcessResult report = run_detent(with(words, {"--format", "json"}));
  for (const std::size_t of : counts) {
    const Folder folder;
    std::vector<std::string> files = write_shards(folder, words, of);
    std::reverse(files.begin(), files.end());  // in any order
    INFO("in " << of << " shards: " << words.front() << " " << words[1]);
    const ProcessResult joined = merged(files);
    CHECK(joined.status == text.status);
    CHECK(joined.output == text.output);
    CHECK(joined.errors == text.errors);
    const ProcessResult joined_report = merged(files, {"--format", "json"});
    CHECK(joined_report.status == report.status);
    CHECK(comparable(joined_report.output).dump(1) == comparable(report.output).dump(1));
  }
}

std::string text_of(const std::string& file) {
  std::ostringstream text;
  text << std::ifstream(file).rdbuf();
  return text.str();
}

std::string resealed(const std::string& shard, const std::function<void(ordered_json&)>& change) {
  ordered_json document = ordered_json::parse(shard);
  document.erase("seal");
  change(document);
  const std::string text = document.dump();
  boost::crc_32_type sum;
  sum.process_bytes(text.data(), text.size());
  std::array<char, 9> digits{};
  std::snprintf(digits.data(), digits.size(), "%08x", sum.checksum());
  document["seal"] = digits.data();
  return document.dump();
}

}  // namespace detent::test
