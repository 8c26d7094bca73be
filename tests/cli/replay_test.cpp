// Logs against designs: what a session records replays, what is changed in it is placed to the row, and bad
// logs are told by row and column.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/log_text.hpp"
#include "cli/replay_study.hpp"
#include "cli/step_session.hpp"
#include "tests/cli/sample.hpp"
#include "tests/cli/schema.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chance.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/process.hpp"
#include "tests/support/replayed_text.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

using cli::HandRun;
using dsl::Value;

/// What a person might do: moves, and time that passes. Refused movements are left.
HandRun played_by_chance(const dsl::Compiled& compiled, std::uint64_t seed) {
  Chance chance(seed);
  cli::Session session(compiled);
  const dsl::Model& model = *compiled.model;
  for (int step = 0; step < 25; ++step) {
    std::vector<cli::Move> moves;
    for (std::uint32_t i = 0; i < model.signals.size(); ++i) {
      const dsl::Signal& signal = model.signals[i];
      if (signal.role != dsl::SignalRole::hand || !chance.one_in(3)) continue;
      const dsl::CircuitInput& input = model.circuit.inputs()[signal.input];
      const Value steps = (input.range.high - input.range.low) / input.step;
      moves.push_back(
          {i, input.range.low +
                  (chance.one_in(2) ? chance.between(0, 1) * steps : chance.between(0, steps)) * input.step});
    }
    static_cast<void>(session.go(moves, 1 + chance.between(0, chance.one_in(4) ? 200 : 8)));
  }
  return session.powered() ? session.run() : HandRun{};
}

std::vector<std::string> shipped_designs() {
  std::vector<std::string> files;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(DETENT_SOURCE_DIR "/specs")) {
    const std::string file = entry.path().string();
    if (file.ends_with(".detent") && file.find("/parts/") == std::string::npos) files.push_back(file);
  }
  std::sort(files.begin(), files.end());
  return files;
}

dsl::Compiled compiled_file(const std::string& file) {
  return dsl::compile(file, [](const std::string& path) {
    std::ifstream stream(path);
    std::ostringstream text;
    text << stream.rdbuf();
    return stream ? dsl::FileText{.text = text.str()} : dsl::FileText{.text = {}, .problem = "is missing"};
  });
}

std::vector<std::vector<std::string>> table_of(const std::string& text) {
  std::vector<std::vector<std::string>> rows;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    if (line.ends_with('\r')) line.pop_back();
    rows.emplace_back();
    std::istringstream fields(line);
    for (std::string field; std::getline(fields, field, ',');) rows.back().push_back(field);
  }
  return rows;
}

std::string text_of(const std::vector<std::vector<std::string>>& rows) {
  std::string text;
  for (const auto& row : rows) text += fmt::format("{}\r\n", fmt::join(row, ","));
  return text;
}

const char* const lamp = R"(design "Lamp"
tick 20 ms
channel thrust from -100 % to 100 % step 1 %
switch guard is safe | run
latch live set guard is run reset guard is safe
output jet = thrust when live else -100 %
output lit = live
claim dark: whenever guard is safe: not lit
claim low: always jet <= 90 %
)";

}  // namespace

TEST_CASE("what is recorded by hand replays, in every shipped design, with no tolerance at all") {
  for (const std::string& file : shipped_designs()) {
    const dsl::Compiled compiled = compiled_file(file);
    REQUIRE(compiled.model.has_value());
    for (std::uint64_t seed = 0; seed < 3; ++seed) {
      const HandRun run = played_by_chance(compiled, seed);
      if (run.ticks == 0) continue;
      INFO(file << ", seed " << seed);
      const auto result = replay_text(*compiled.model, cli::log_text(*compiled.model, run), 0);
      if (const auto* problem = std::get_if<cli::CsvProblem>(&result)) FAIL(problem->what);
      const cli::Replay& replay = std::get<cli::Replay>(result);
      CHECK(cli::first_parting(replay) == nullptr);
      CHECK_FALSE(replay.unkept.has_value());
      CHECK(replay.ticks == run.ticks);
      const cli::RunJudgement judgement = cli::judge(*compiled.model, run, {}, {});
      CHECK_FALSE(judgement.unkept.has_value());
    }
  }
}

TEST_CASE("one output that is flipped is placed to the row") {
  int flips = 0;
  for (const std::string& file : shipped_designs()) {
    const dsl::Compiled compiled = compiled_file(file);
    const dsl::Model& model = *compiled.model;
    const HandRun run = played_by_chance(compiled, 5);
    if (run.ticks == 0) continue;
    const auto table = table_of(cli::log_text(model, run));
    const std::vector<std::uint32_t> signals = cli::log_signals(model);
    for (std::size_t column = 1; column < table.front().size(); ++column) {
      const dsl::Signal& signal = model.signals[signals[column - 1]];
      if (signal.role != dsl::SignalRole::output) continue;
      for (std::size_t row = 1; row < table.size(); ++row) {
        auto changed = table;
        std::string& cell = changed[row][column];
        if (signal.sort.kind == dsl::SortKind::level) {
          cell = fmt::format("{}", cell == "7" ? 8 : 7);
        } else {
          cell = dsl::to_text(cell == dsl::to_text(0, signal.sort) ? 1 : 0, signal.sort);
        }
        if (cell == table[row][column]) continue;
        const auto result = replay_text(model, text_of(changed), 0);
        const cli::Compared* first = cli::first_parting(std::get<cli::Replay>(result));
        INFO(file << ", row " << row + 1 << ", " << signal.name);
        REQUIRE(first != nullptr);
        CHECK(first->signal == signals[column - 1]);
        CHECK(first->parting->row == row + 1);  // the header is row 1
        ++flips;
      }
    }
  }
  CHECK(flips > 200);
}

TEST_CASE("a log sampled by another clock agrees within its tolerance, and not within less") {
  const Folder folder;
  const std::string design = folder.write("lamp.detent", lamp);
  // The device sees the guard 30 ms after it is thrown and released; sampled every 7 ms in other units and
  // words.
  std::string log = "t ms;ch1 us;arm;pwm us;led;battery V\n";
  for (int ms = 0; ms <= 700; ms += 7) {
    const bool thrown = ms >= 203 && ms < 502;
    const bool live = ms >= 203 + 30 && ms < 502 + 30;
    log += fmt::format("{};{};{};{};{};7,4\n", ms + 5000, 1750, thrown ? 1 : 0, live ? 1751 : 1000,
                       live ? "Yes" : "no");
  }
  const std::string file = folder.write("bench.csv", log);
  const std::vector<std::string> words{"replay",
                                       design,
                                       file,
                                       "--time",
                                       "t ms",
                                       "--column",
                                       "thrust=ch1",
                                       "--column",
                                       "guard=arm",
                                       "--column",
                                       "jet=pwm",
                                       "--column",
                                       "lit=led",
                                       "--scale",
                                       "thrust=1000..2000 us:-100..100 %",
                                       "--scale",
                                       "jet=1000..2000 us:-100..100",
                                       "--words",
                                       "guard=0:safe,1:run"};
  const auto with = [&](const std::vector<std::string>& more) {
    std::vector<std::string> all = words;
    all.insert(all.end(), more.begin(), more.end());
    return run_detent(all);
  };
  const ProcessResult good = with({"--tolerance-time", "35 ms", "--tolerance-level", "jet=1 %"});
  CHECK(good.errors == "");
  CHECK(good.status == 0);
  CHECK(has(good.output, "not looked at: battery V"));
  CHECK(has(good.output, "The same in the whole log: jet and lit"));
  const ProcessResult late = with({"--tolerance-time", "10 ms", "--tolerance-level", "1 %"});
  CHECK(late.status == 1);
  CHECK(has(late.output, "THEY PART"));
  const ProcessResult level = with({"--tolerance-time", "35 ms"});
  CHECK(level.status == 1);
  CHECK(has(level.output, "THEY PART  jet"));
  CHECK(has(level.output, "the model says: 50 %"));
  const ProcessResult json =
      with({"--tolerance-time", "10 ms", "--tolerance-level", "1 %", "--format", "json"});
  CHECK(json.status == 1);
  const auto document = nlohmann::json::parse(json.output);
  std::ifstream schema(DETENT_SOURCE_DIR "/cli/replay.schema.json");
  for (const std::string& complaint : schema_complaints(nlohmann::json::parse(schema), document))
    FAIL_CHECK(complaint);
  CHECK(document["comparison"][0]["outcome"] == "parts");
  const std::size_t row = document["comparison"][1]["row"];
  CHECK(row >= 29);  // 203 ms is row 31; the model goes on in its tick at 220 ms
  CHECK(row <= 36);
}

TEST_CASE("claims and assumptions on the way") {
  const Folder folder;
  const std::string design = folder.write(
      "lamp.detent", std::string(lamp) + "assume calm \"nobody pulls through\": never thrust == 100 %\n");
  const std::string header = "time s,thrust,guard,lit\n";
  const ProcessResult broken =
      run_detent({"replay", design, folder.write("a.csv", header + "0,95,safe,\n1,95,run,\n2,0,run,\n")});
  CHECK(broken.status == 1);
  CHECK(has(broken.output, "BROKEN at 1 s (tick 50)  low"));
  CHECK(has(broken.output, "jet must be at most 90 %"));
  const ProcessResult unkept =
      run_detent({"replay", design, folder.write("b.csv", header + "0,0,safe,\n1,100,safe,\n")});
  CHECK(unkept.status == 1);
  CHECK(has(unkept.output, "NOT AS ASSUMED"));
  CHECK(has(unkept.output, "calm, \"nobody pulls through\" (line 10)"));
  const ProcessResult good =
      run_detent({"replay", design, "-"}, {.input = header + "0,0,safe,\n1,50,safe,\n"});
  CHECK(good.status == 0);
}

TEST_CASE("what lies between two ticks is told, as the model never sees it") {
  const Folder folder;
  const std::string design = folder.write("lamp.detent", lamp);
  const auto with = [&](const std::string& rows, std::vector<std::string> more = {}) {
    const std::string log = folder.write("a.csv", "time s,thrust %,guard,lit\n" + rows);
    more.insert(more.begin(), {"replay", design, log});
    return run_detent(more);
  };
  // The tick is 20 ms: both movements are for the tick at 1.02 s.
  const std::string pulse = "0,0,safe,off\n1.001,0,run,off\n1.005,0,safe,off\n2,0,safe,off\n";
  const ProcessResult back = with(pulse);
  INFO(back.output << back.errors);
  CHECK(back.status == 1);
  CHECK(has(back.output, "guard goes to run and back between two ticks (rows 3 to 4)"));
  CHECK(has(back.output, "20 ms"));
  const ProcessResult json = with(pulse, {"--format", "json"});
  const auto document = nlohmann::json::parse(json.output);
  std::ifstream schema(DETENT_SOURCE_DIR "/cli/replay.schema.json");
  for (const std::string& complaint : schema_complaints(nlohmann::json::parse(schema), document))
    FAIL_CHECK(complaint);
  CHECK(document["unseen_count"] == 1);
  CHECK(document["unseen"][0]["from_row"] == 3);
  CHECK(document["unseen"][0]["value"] == "run");
  // Also where the log ends before the model looks again.
  CHECK(with("0,0,safe,off\n1.001,0,run,off\n1.005,0,safe,off\n").status == 1);
  // A tick between them, or two movements of which each stays, are seen.
  CHECK(with("0,0,safe,off\n1.001,0,safe,off\n1.019,40,safe,off\n2,40,safe,off\n").status == 0);
  CHECK(with("0,0,safe,off\n1.001,5,safe,off\n1.005,9,safe,off\n2,9,safe,off\n").status == 0);
  const std::string nod = "0,0,safe,off\n1.001,3,safe,off\n1.005,0,safe,off\n2,0,safe,off\n";
  CHECK(with(nod).status == 1);
  CHECK(with(nod, {"--tolerance-level", "thrust=3 %"}).status == 0);
  CHECK(with(nod, {"--tolerance-level", "thrust=2 %"}).status == 1);
  // Rows of one moment that complete each other say what one row would.
  CHECK(with("0,0,safe,off\n1,40,,\n1,,safe,\n1,40,safe,off\n2,40,safe,off\n").status == 0);
}

TEST_CASE("logs that can't be used are told by row and column, with the mend") {
  struct Row {
    std::string log;
    std::vector<std::string> options;
    const char* what;
    const char* mend;
  };
  const Folder folder;
  const std::string design = folder.write("lamp.detent", lamp);
  const std::string head = "time s,thrust %,guard,jet %,lit\n";
  std::string huge = "1e";
  huge.append(60'000, '9');
  for (const Row& row : std::initializer_list<Row>{
           {"", {}, "is empty", "names the columns"},
           {head, {}, "row 1: there is no row behind the header", "at least one row"},
           {"\n\n\n", {}, "is empty", ""},
           {"t,thrust\n0,0\n", {}, "no column of the log is called 'time'", "--time"},
           {"time,thrust,guard\n0,0,safe\n", {}, "'time' says no unit", "--time \"time ms\""},
           {"time V,thrust,guard\n0,0,safe\n", {}, "says no unit of time", "--time"},
           {head + "0,0,safe,-100,off\n",
            {"--time", "tim s"},
            "no column of the log is called 'tim",
            "did you mean"},
           {head + "0,0,safe,-100,off\n", {"--time", "time ms"}, "the header says 'time s'", "same unit"},
           {"time s,thrust %\n0,0\n", {}, "no column for the input 'guard'", "--still \"guard=safe\""},
           {"time s,thrust us,guard\n0,0,safe\n", {}, "is in us, but thrust is meant in %", "--scale"},
           {"time s,thrust,thrust,guard\n0,0,0,safe\n", {}, "two columns for 'thrust'", "--column"},
           {head + "0,0,safe,-100\n", {}, "row 2: the row has 4 fields, the header 5", "as many"},
           {head + "0,0,safe,-100,off\n1,0,safe,-100,off,1\n", {}, "row 3: the row has 6 fields", "as many"},
           {head + "x,0,safe,-100,off\n", {}, "row 2, column 1: 'x' is no time", "plain number"},
           {head + "nan,0,safe,-100,off\n", {}, "row 2, column 1: 'nan' is no time", "plain number"},
           {head + ",0,safe,-100,off\n", {}, "row 2, column 1: '' is no time", "plain number"},
           {head + huge + ",0,safe,-100,off\n", {}, "row 2, column 1", "plain number"},
           {head + "0,0,safe,-100,off\n1e9,0,safe,-100,off\n", {}, "is more than 1000000000 ticks", "unit"},
           {head + "2,0,safe,-100,off\n1,0,safe,-100,off\n",
            {},
            "row 3, column 1: the time '1' goes back",
            "sort"},
           {head + "0,0,safe,-100,off\n1,0,safe,50,off\n1,0,safe,-100,off\n",
            {},
            "row 4, column 4: the time is that of row 3, but 'jet %' says something else",
            "finer"},
           {head + "0,0,safe,-100,off\n1,0,run,,\n1,0,safe,,\n", {}, "row 4, column 3", "leave one"},
           {"time s,thrust %,guard,Jet %\n0,0,safe,-100\n", {}, "nothing would be compared", "jet=Jet"},
           {"time s,thrust %,guard\n0,0,safe\n", {}, "nothing would be compared", "jet, lit"},
           {head + "0,,safe,-100,off\n", {}, "row 2, column 2: 'thrust %' has no value yet", "first row"},
           {head + "0,nan,safe,-100,off\n",
            {},
            "row 2, column 2: 'nan' is no value of thrust",
            "plain number"},
           {head + "0,inf,safe,-100,off\n", {}, "row 2, column 2: 'inf' is no value of thrust", "empty"},
           {head + "0,0x1,safe,-100,off\n", {}, "'0x1' is no value of thrust", ""},
           {head + "0,150,safe,-100,off\n",
            {},
            "row 2, column 2: '150' is beyond what thrust can be",
            "--scale"},
           {head + "0,1e300,safe,-100,off\n", {}, "row 2, column 2", ""},
           {head + "0,0,half,-100,off\n",
            {},
            "row 2, column 3: 'half' is no value of guard",
            "--words \"guard=…:safe\""},
           {head + "0,0,s\xFF"
                   "fe,-100,off\n",
            {},
            "row 2, column 3",
            "safe or run"},
           {head + "0,0,safe,-100,perhaps\n", {}, "row 2, column 5: 'perhaps' is no value of lit", "on/off"},
           {head + "0,0,safe,inf,off\n", {}, "row 2, column 4: 'inf' is no value of jet", ""},
           {head + std::string("0,0,safe,-100,o\0f\n", 17),
            {},
            "row 2, column 5: there is a NUL byte",
            "UTF-8"},
           {head + "0,0,\"safe,-100,off\n",
            {},
            "row 2, column 3: a quote is opened and never closed",
            "close"},
           {head + "0,0,safe,-100,off\n",
            {"--column", "jet"},
            "--column: 'jet' has no '='",
            "--column thrust=ch3"},
           {head + "0,0,safe,-100,off\n",
            {"--column", "jett=lit"},
            "nothing in the design is called 'jett'",
            "did you mean 'jet'"},
           {head + "0,0,safe,-100,off\n",
            {"--column", "jet=ch9"},
            "no column of the log is called 'ch9'",
            "the columns are"},
           {head + "0,0,safe,-100,off\n", {"--scale", "guard=0..1:0..1"}, "guard is no level", "--words"},
           {head + "0,0,safe,-100,off\n",
            {"--scale", "jet=0..1:0..1", "--scale", "jet=0..1:0..2"},
            "jet is scaled twice",
            "leave one"},
           {head + "0,0,safe,-100,off\n",
            {"--words", "guard=0..5:safe,5..9:run"},
            "'0..5' and '5..9' can mean the same cell",
            "part them"},
           {head + "0,0,safe,-100,off\n",
            {"--words", "guard=a:safe,a:run"},
            "can mean the same cell",
            "part"},
           {head + "0,0,safe,-100,off\n", {"--words", "guard=9..5:safe"}, "no range that holds", "900..1300"},
           {head + "0,0,safe,-100,off\n", {"--words", "guard=..5:safe"}, "no range that holds", "900..1300"},
           {head + "0,0,safe,-100,off\n",
            {"--still", "guard=run"},
            "--still: guard has a column in the log",
            "leave --still out"},
           {"time s,guard,lit\n0,safe,off\n",
            {"--still", "thrust=1 %", "--still", "thrust=2 %"},
            "thrust is told twice",
            "leave one"},
           {head + "0,100.4,safe,-100,off\n",
            {},
            "'100.4' is beyond what thrust can be",
            "--tolerance-level"},
           {head + "0,0,safe,-100,off\n", {"--scale", "jet=5..5:0..1"}, "no two pairs of levels", "--scale"},
           {head + "0,0,safe,-100,off\n",
            {"--scale", "jet=1..2:0..1 V"},
            "jet is in % in the design",
            "--scale"},
           {head + "0,0,safe,-100,off\n", {"--words", "jet=1:2"}, "jet is a level", "--scale"},
           {head + "0,0,safe,-100,off\n", {"--words", "guard=1:fast"}, "guard is never 'fast'", "safe, run"},
           {head + "0,0,safe,-100,off\n", {"--still", "jet=1 %"}, "jet is no input", "the inputs are"},
           {head + "0,0,safe,-100,off\n", {"--tolerance-time", "fast"}, "'fast' is no time", "0.5 s"},
           {head + "0,0,safe,-100,off\n", {"--tolerance-time", "-1 s"}, "is no time", ""},
           {head + "0,0,safe,-100,off\n",
            {"--tolerance-level", "1 V"},
            "no level of the design is in 'V'",
            "2 %"},
           {head + "0,0,safe,-100,off\n", {"--tolerance-level", "lit=1 %"}, "lit is no level", "2 %"},
       }) {
    const std::string file = folder.write("bad.csv", row.log);
    std::vector<std::string> words{"replay", design, file};
    words.insert(words.end(), row.options.begin(), row.options.end());
    const ProcessResult result = run_detent(words);
    INFO(row.log.substr(0, 200) << result.errors << result.output);
    CHECK(result.status == 2);
    CHECK(result.output.empty());
    CHECK(has(result.errors, row.what));
    CHECK(has(result.errors, row.mend));
    CHECK(result.errors.size() < 1'000);
  }
  CHECK(has(run_detent({"replay", design, design + ".csv"}).errors, "No such file"));
  CHECK(has(run_detent({"replay", design, DETENT_SOURCE_DIR}).errors, "directory"));
  CHECK(has(run_detent({"replay", "-", "-"}).errors, "can't both"));
  CHECK(has(run_detent({"replay", design}).errors, "a design and a log are needed"));
}

TEST_CASE("a line of a hundred megabytes is refused in little memory") {
  const Folder folder;
  const std::string design = folder.write("lamp.detent", lamp);
  const ProcessResult result = run_shell(
      "ulimit -v 400000; (printf 'time s,thrust,guard,lit\\n0,'; head -c 100000000 /dev/zero | tr '\\0' 1; "
      "echo "
      ",safe,off) | "
      "$DETENT replay " +
      design + " -");
  CHECK(result.status == 2);
  CHECK(has(result.errors, "row 2, column 2: the field is longer than 65536 bytes"));
}

TEST_CASE("a hundred thousand rows fit into little memory") {
  const Folder folder;
  const std::string design = folder.write("lamp.detent", lamp);
  const auto log_of = [&](int rows) {
    std::string log = "time ms,thrust %,guard,jet %,lit\n";
    for (int i = 0; i < rows; ++i) {
      const int level = i / 20 % 150 - 60;
      const bool run = i / 20 % 400 < 200;
      log += fmt::format("{},{},{},{},{}\n", i, level, run ? "run" : "safe", run ? level : -100, run ? 1 : 0);
    }
    return folder.write(fmt::format("{}.csv", rows), log);
  };
  const ProcessResult big = run_shell("ulimit -v 120000; $DETENT replay " + design + " " + log_of(100'000));
  INFO(big.errors);
  CHECK(big.status == 0);
}

TEST_CASE("a reader that goes away is no reason to complain") {
  const Folder folder;
  const std::string design = folder.write("lamp.detent", lamp);
  const std::string log = folder.write("a.csv", "time s,thrust,guard,lit\n0,0,safe,off\n");
  const ProcessResult result = run_shell("$DETENT replay " + design + " " + log + " | true");
  CHECK(result.errors.empty());
}

}  // namespace detent::test
