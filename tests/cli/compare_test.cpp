// `detent compare` as a user's shell sees it: exit statuses, pages, JSON against its schema, messages.
#include <stdlib.h>

#include <filesystem>
#include <fstream>
#include <functional>
#include <nlohmann/json.hpp>

#include "tests/cli/schema.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

using nlohmann::json;

/// A directory with designs, gone afterwards.
class Folder {
 public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "detent-compare-XXXXXX").string();
    REQUIRE(mkdtemp(name.data()) != nullptr);
    path_ = name;
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { std::filesystem::remove_all(path_); }

  void write(const std::string& name, const std::string& text) const {
    std::ofstream(path_ + '/' + name, std::ios::binary) << text;
  }
  [[nodiscard]] const std::string& path() const { return path_; }
  [[nodiscard]] ProcessResult compare(const std::vector<std::string>& words,
                                      ProcessWishes wishes = {}) const {
    wishes.directory = path_;
    std::vector<std::string> all{"compare"};
    all.insert(all.end(), words.begin(), words.end());
    return run_detent(all, wishes);
  }

 private:
  std::string path_;
};

const char* const lamp = R"(design "Lamp"
tick 20 ms
button go
button stop
latch lamp set go reset stop
output light = 100 % when lamp else 0 %
claim off_wins "Stop wins.": whenever stop: not lamp
claim can_shine: possible lamp within 1 s
)";

const char* const lamp_set_wins = R"(design "Lamp, the other way"
tick 20 ms
button go
button halt
latch lamp set go reset halt set wins
output light = 100 % when lamp else 0 %
claim can_shine: possible lamp within 2 s
claim needs_go: rises(lamp) only while go
)";

json schema() {
  std::ifstream file(DETENT_SOURCE_DIR "/cli/compare.schema.json");
  return json::parse(file);
}

json checked(const ProcessResult& result) {
  json document = json::parse(result.output);
  for (const std::string& complaint : schema_complaints(schema(), document)) FAIL_CHECK(complaint);
  CHECK(document["exit_status"] == result.status);
  return document;
}

}  // namespace

TEST_CASE("a design compared with itself is the same") {
  const Folder folder;
  folder.write("lamp.detent", lamp);
  const ProcessResult result = folder.compare({"lamp.detent", "lamp.detent"});
  CHECK(result.status == 0);
  CHECK(result.errors.empty());
  CHECK(has(result.output, "Proved the same in every run of any length: light and lamp"));
  CHECK(has(result.output, "The same in all that both have, for all time."));
  const json document = checked(folder.compare({"lamp.detent", "lamp.detent", "--format", "json"}));
  for (const json& one : document["compared"]) CHECK(one["same"] == true);
  for (const json& figure : document["figures"]) {
    CHECK(figure["a"]["state"] == "exact");
    CHECK(figure["a"] == figure["b"]);
  }
}

TEST_CASE("a difference has its exit status, its direction and its run") {
  const Folder folder;
  folder.write("a.detent", lamp);
  folder.write("b.detent", lamp_set_wins);
  const std::vector<std::string> words{"a.detent", "b.detent", "--match", "stop=halt"};
  const ProcessResult result = folder.compare(words);
  CHECK(result.status == 1);
  CHECK(has(result.output, "THEY PART  output light"));
  CHECK(has(result.output, "A above B: never, in no run of any length"));
  CHECK(has(result.output, "on in B, off in A: in a run of"));
  CHECK(has(result.output, "moved together: go and stop (in B: halt)"));
  CHECK(has(result.output, "They differ."));
  auto as_json = words;
  as_json.insert(as_json.end(), {"--format", "json"});
  const json document = checked(folder.compare(as_json));
  // A's claim by B's names; one name with two wordings; a claim that only B has.
  REQUIRE(document["claims"].size() == 4);
  const auto claim = [&](const char* name, const json& worded_by) -> const json& {
    for (const json& one : document["claims"]) {
      if (one["claim"] == name && one["worded_by"] == worded_by) return one;
    }
    FAIL("no claim " << name);
    return document;
  };
  CHECK(claim("off_wins", nullptr)["a"]["outcome"] == "proved");
  CHECK(claim("off_wins", nullptr)["b"]["outcome"] == "refuted");
  CHECK(claim("off_wins", nullptr)["b"]["run"]["ticks"] == 1);
  CHECK(claim("can_shine", "a")["b"]["outcome"] == "possible");
  CHECK(claim("can_shine", "b")["a"]["outcome"] == "possible");
  CHECK(claim("needs_go", nullptr)["a"]["outcome"] == "proved");
}

TEST_CASE("the safe two-step unlock and its two flaws") {
  const auto document = [](const std::string& flaw) {
    return checked(run_detent({"compare", "two_step_unlock.detent", flaw, "--format", "json"},
                              {.directory = DETENT_SOURCE_DIR "/specs/flagship"}));
  };
  const auto ways = [](const json& report, const char* signal) {
    std::string words;
    for (const json& one : report["compared"]) {
      if (one["a"] != signal) continue;
      for (const json& parting : one["partings"]) {
        words += parting["way"].get<std::string>() + " " + parting["outcome"].get<std::string>() + " ";
      }
    }
    return words;
  };
  const json kept = document("flaw_window_kept_alive.detent");
  CHECK(ways(kept, "window") == "a_above_b never b_above_a found ");
  CHECK(ways(kept, "live") == "a_above_b never b_above_a found ");
  CHECK(ways(kept, "idle") == "a_above_b never b_above_a never ");
  const json late = document("flaw_locks_a_tick_late.detent");
  CHECK(ways(late, "jet") == "a_above_b found b_above_a found ");
  CHECK(ways(late, "live") == "a_above_b never b_above_a never ");
  const json& rest = late["figures"][4];
  CHECK(rest["figure"] == "ticks_from_lock_to_rest");
  CHECK(rest["a"]["value"] == 0);
  CHECK(rest["b"]["value"] == 1);
  for (const json* report : {&kept, &late}) {
    CHECK((*report)["exit_status"] == 1);
    for (const json& figure : (*report)["figures"]) {
      CHECK(figure["a"]["state"] == "exact");
      CHECK(figure["b"]["state"] == "exact");
    }
  }
}

TEST_CASE("what is not matched is listed, and what can't be asked says why") {
  const Folder folder;
  folder.write("a.detent", lamp);
  folder.write("b.detent", lamp_set_wins);
  const ProcessResult result = folder.compare({"a.detent", "b.detent"});
  CHECK(result.status == 1);
  CHECK(has(result.output, "only in A: stop (moves freely)"));
  CHECK(has(result.output, "only in B: halt (moves freely)"));
  CHECK(has(result.output, "not asked: nothing here is called 'stop'"));
  checked(folder.compare({"a.detent", "b.detent", "--format", "json"}));
}

TEST_CASE("an output that only one design has is a difference") {
  const Folder folder;
  folder.write("a.detent", lamp);
  folder.write("b.detent", std::string(lamp) + "output more = lamp\n");
  const ProcessResult result = folder.compare({"a.detent", "b.detent"});
  CHECK(result.status == 1);
  CHECK(has(result.output, "only in B: output more"));
}

TEST_CASE("figures are about what is asked for, or say why they are left out") {
  const Folder folder;
  folder.write("lamp.detent", lamp);
  const auto document = [&](const std::vector<std::string>& more) {
    std::vector<std::string> words{"lamp.detent", "lamp.detent", "--format", "json"};
    words.insert(words.end(), more.begin(), more.end());
    return checked(folder.compare(words));
  };
  const json usual = document({});
  CHECK(usual["conditions"]["goal"]["a"]["text"] == "lamp");
  CHECK(usual["conditions"]["lock"]["a"]["text"] == "stop");
  const json asked = document({"--goal", "light == 100 % // all of it", "--rest", "not lamp"});
  CHECK(asked["conditions"]["lock"]["a"].contains("why_not"));
  CHECK(asked["figures"][0]["a"]["value"] == 0);
  CHECK(asked["figures"][4]["a"]["state"] == "left_out");
  const json never = document({"--goal", "lamp and stop"});
  CHECK(never["figures"][0]["a"]["state"] == "never");
}

TEST_CASE("a figure that can't be told in time is undecided, never a guess") {
  const Folder folder;
  // Every step is a multiple of 3, which a search by events can't see the end of.
  folder.write(
      "slow.detent",
      "tick 20 ms\nchannel push from 0 % to 100 % step 1 %\n"
      "keep total = min(previous(total, starting 0 %) + 3 * push, 1000000 %) when true starting 0 %\n"
      "signal there = total == 20000 %\nclaim never_there: never there\n");
  const ProcessResult result =
      folder.compare({"slow.detent", "slow.detent", "--goal", "there", "--timeout", "300ms"});
  CHECK(result.status == 3);
  CHECK(has(result.output, "undecided"));
  CHECK(has(result.output, "No difference was found, but not all is decided."));
  checked(folder.compare(
      {"slow.detent", "slow.detent", "--goal", "there", "--timeout", "300ms", "--format", "json"}));
}

TEST_CASE("Ctrl-C tells what is known so far") {
  const Folder folder;
  folder.write(
      "slow.detent",
      "tick 20 ms\nchannel push from 0 % to 100 % step 1 %\n"
      "keep total = min(previous(total, starting 0 %) + 3 * push, 1000000 %) when true starting 0 %\n"
      "signal there = total == 20000 %\nclaim never_there: never there\n");
  const ProcessResult result =
      folder.compare({"slow.detent", "slow.detent", "--timeout", "1h", "--goal", "there"},
                     {.interrupt_after = std::chrono::milliseconds(1500)});
  CHECK(result.status == 3);
  CHECK(has(result.output, "Proved the same in every run of any length"));
}

TEST_CASE("output that nobody gets is no verdict") {
  const Folder folder;
  folder.write("lamp.detent", lamp);
  folder.write("other.detent", lamp_set_wins);
  CHECK(folder.compare({"lamp.detent", "other.detent", "--brief"}).status == 1);
  const ProcessWishes wishes{.directory = folder.path()};
  const ProcessResult full = run_shell("$DETENT compare lamp.detent other.detent > /dev/full", wishes);
  CHECK(full.status == 2);
  CHECK(has(full.errors, "No space left on device"));
  const ProcessResult closed = run_shell("$DETENT compare lamp.detent other.detent >&-", wishes);
  CHECK(closed.status == 2);
  CHECK(has(closed.errors, "mend: leave standard output open, or send it to a file: detent compare"));
}

TEST_CASE("a limit for all questions together leaves the rest undecided, and tells what is known") {
  const Folder folder;
  std::string text =
      "tick 20 ms\nchannel push from 0 % to 100 % step 1 %\nbutton a\nlatch lit set a reset not a\n";
  text +=
      "keep total = min(previous(total, starting 0 %) + 3 * push, 1000000 %) when true starting 0 %\n"
      "signal there = total == 20000 %\nclaim never_there: never there\n";
  folder.write("slow.detent", text);
  const auto start = std::chrono::steady_clock::now();
  const ProcessResult result = folder.compare(
      {"slow.detent", "slow.detent", "--timeout", "1h", "--goal", "there", "--total-timeout", "1500ms"});
  CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(60));  // not an hour
  CHECK(result.status == 3);
  CHECK(has(result.output, "Proved the same in every run of any length"));
  CHECK(has(result.output, "--total-timeout"));
}

TEST_CASE("two designs with nothing in common say that there was nothing to compare") {
  const Folder folder;
  folder.write("a.detent", "tick 20 ms\n");
  const ProcessResult result = folder.compare({"a.detent", "a.detent"});
  CHECK(result.status == 0);
  CHECK(has(result.output, "There was nothing to compare"));
  CHECK_FALSE(has(result.output, "The same"));
}

TEST_CASE("wrong input ends with status 2 and a mend") {
  const Folder folder;
  folder.write("lamp.detent", lamp);
  folder.write("slow_tick.detent", "tick 50 ms\nbutton go\nclaim c: never go\n");
  folder.write("broken.detent", "tick 20 ms\nsignal a = b\n");
  folder.write("dark.detent", std::string(lamp) + "assume dark: always stop\n");
  folder.write("bright.detent", std::string(lamp) + "assume bright: never stop\n");
  const auto refused = [&](const std::vector<std::string>& words, const std::string& part) {
    const ProcessResult result = folder.compare(words);
    INFO(result.errors);
    CHECK(result.status == 2);
    CHECK(result.output.empty());
    CHECK(has(result.errors, part));
    CHECK(has(result.errors, "mend:"));
  };
  refused({"lamp.detent"}, "two designs are needed");
  refused({"lamp.detent", "slow_tick.detent"}, "a tick is 20 ms in A and 50 ms in B");
  refused({"lamp.detent", "broken.detent"}, "nothing here is called 'b'");
  refused({"lamp.detent", "nowhere.detent"}, "does not exist");
  refused({"-", "-"}, "both designs cannot come from standard input");
  refused({"lamp.detent", "lamp.detent", "--match", "stop"}, "two names with a sign =");
  refused({"lamp.detent", "lamp.detent", "--match", "stopp=stop"}, "did you mean 'stop'?");
  refused({"lamp.detent", "lamp.detent", "--match", "go=light"}, "would mean two things");
  refused({"lamp.detent", "lamp.detent", "--match", "go=light", "--match", "light=go"},
          "is an input in A and computed in B");
  // Half of an exchange: 'go' of B would be left over under the name of A's 'go'.
  refused({"lamp.detent", "lamp.detent", "--match", "go=stop"}, "'go' would mean two things");
  refused({"lamp.detent", "lamp.detent", "--goal", "lamps"}, "--goal: nothing here is called 'lamps'");
  refused({"lamp.detent", "lamp.detent", "--goal", "lamp)\nbutton more\nclaim d: never (go"}, "--goal: ");
  refused({"lamp.detent", "lamp.detent", "--lock", "light"}, "--lock: ");
  // Each condition is read by itself: what would close a bracket round it, or begin a declaration, is no
  // condition.
  refused({"lamp.detent", "lamp.detent", "--goal", "lamp) or (go"},
          "--goal: 'lamp) or (go' is not one condition");
  refused({"lamp.detent", "lamp.detent", "--rest", "lamp or"}, "--rest: 'lamp or' is not one condition");
  refused({"lamp.detent", "lamp.detent", "--lock", "stop\nclaim z: never go"}, "is not one condition");
  refused({"lamp.detent", "lamp.detent", "--goal", ""}, "--goal: nothing is written");
  refused({"lamp.detent", "lamp.detent", "--goal", " \n"}, "--goal: nothing is written");
  refused({"lamp.detent", "lamp.detent", "--goal", "true"}, "'true' is always the same");
  refused({"lamp.detent", "lamp.detent", "--lock", "1 == 2"}, "names nothing of the design");
  refused({"lamp.detent", "lamp.detent", "--format", "page"}, "--format: there is no 'page'");
  refused({"lamp.detent", "lamp.detent", "--within", "3"}, "there is no option '--within'");
  refused({"dark.detent", "bright.detent"}, "obeys all that the two designs together assume");
  folder.write("neither.detent", std::string(lamp) + "assume dark: always stop\nassume bright: never stop\n");
  refused({"lamp.detent", "neither.detent"}, "obeys all that B assumes");
  refused({"lamp.detent", "neither.detent"}, "ask for less: 'dark', 'bright'");
  refused({"lamp.detent", "lamp.detent", "--total-timeout", "soon"}, "--total-timeout: 'soon' is not a time");
  const json broken = checked(folder.compare({"lamp.detent", "broken.detent", "--format", "json"}));
  CHECK_FALSE(broken.contains("compared"));
  CHECK(broken["b"]["diagnostics"].size() == 1);
  const json contradiction = checked(folder.compare({"dark.detent", "bright.detent", "--format", "json"}));
  CHECK(contradiction["no_run_of"]["assumed_by"] == "both");
}

TEST_CASE("the schema of a comparison refuses what it should, and describes every member") {
  const Folder folder;
  folder.write("lamp.detent", lamp);
  const json good = checked(folder.compare({"lamp.detent", "lamp.detent", "--format", "json"}));
  const auto refused = [&](const char* pointer, const json& value) {
    json bad = good;
    bad[json::json_pointer(pointer)] = value;
    return !schema_complaints(schema(), bad).empty();
  };
  CHECK(refused("/surplus", 1));
  CHECK(refused("/schema_version", 2));
  CHECK(refused("/compared/0/partings/0/outcome", "perhaps"));
  CHECK(refused("/figures/0/a/state", "good"));
  CHECK(refused("/figures/0/a/value", -1));
  CHECK(refused("/claims/0/a/surplus", 1));
  CHECK_FALSE(refused("/a/title", "another"));
  const json root = schema();
  const std::function<void(const json&)> walk = [&](const json& part) {
    if (!part.is_object()) return;
    if (part.contains("type") || part.contains("enum")) CHECK(part.contains("description"));
    for (const auto& [name, member] : part.items()) {
      if (name != "enum") walk(member);
    }
  };
  walk(root["$defs"]);
  for (const auto& [name, member] : root["properties"].items()) walk(member);
}

}  // namespace detent::test
