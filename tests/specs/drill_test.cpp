// The bench lists of the shipped designs, with the interpreter as the device on the bench.
//
// Every step is as expected on the design itself. With any one small change of the design (those of `detent
// gaps`) some step is not, unless the engine proves that no run shows the change at any output. The device is
// played here tick by tick, by nothing that made the list.
#include <algorithm>
#include <cstdlib>

#include "cli/drill_report.hpp"
#include "cli/replay_study.hpp"
#include "dsl/slip_list.hpp"
#include "dsl/twins.hpp"
#include "solver/forever.hpp"
#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/replayed_text.hpp"
#include "tests/support/shipped.hpp"

namespace detent::test {
namespace {

using dsl::Value;

std::vector<std::string> drilled_files() {
  std::vector<std::string> files;
  for (const char* folder : {"boat", "arena", "winch", "flagship", "guards"}) {
    for (const std::string& file : shipped_files(folder)) files.push_back(file);
  }
  return files;
}

cli::DrillReport report_of(const std::string& file) {
  cli::DrillReport report{.file = file,
                          .compiled = compile_changed(file, [](const std::string& text) { return text; }),
                          .study = {},
                          .sheet = {}};
  report.study = cli::study_drill(report.compiled, {}, {.timeout = std::chrono::seconds(60)}, {});
  report.sheet = cli::drill_sheet(report.study);
  return report;
}

/// The values of the shown signals at every tick of a round, on this device.
std::vector<std::vector<Value>> shown_on(const dsl::Model& device, const cli::DrillStudy& study,
                                         const solver::Run& run) {
  std::vector<dsl::NodeId> nodes;
  for (const std::uint32_t shown : study.shown) {
    for (const dsl::Signal& signal : device.signals) {
      if (signal.name == study.model.signals[shown].name) nodes.push_back(signal.node);
    }
  }
  REQUIRE(nodes.size() == study.shown.size());
  solver::Interpreter machine(device.circuit);
  std::vector<std::vector<Value>> rows;
  for (std::size_t tick = 0; tick < run.ticks(); ++tick) {
    const std::vector<Value>& values = machine.step(run.inputs[tick]);
    rows.emplace_back();
    for (const dsl::NodeId node : nodes) rows.back().push_back(values[node]);
  }
  return rows;
}

/// Whether every expectation of every step comes true, and nothing else happens, on this device.
bool passes(const dsl::Model& device, const cli::DrillReport& report) {
  for (std::size_t round = 0; round < report.sheet.size(); ++round) {
    const auto rows = shown_on(device, report.study, report.study.rounds[round].run);
    std::vector<Value> expected(report.study.shown.size());
    for (const cli::DrillStep& step : report.sheet[round].steps) {
      std::size_t next = 0;
      for (Value tick = step.tick; tick <= step.last; ++tick) {
        while (next < step.expectations.size() && step.expectations[next].after <= tick - step.tick) {
          const cli::Expectation& one = step.expectations[next++];
          const auto place = std::find(report.study.shown.begin(), report.study.shown.end(), one.signal);
          expected[static_cast<std::size_t>(place - report.study.shown.begin())] = one.value;
        }
        if (rows[static_cast<std::size_t>(tick)] != expected) return false;
      }
    }
  }
  return true;
}

bool differs_somewhere(const dsl::Model& device, const cli::DrillReport& report) {
  for (const cli::DrillRound& round : report.study.rounds) {
    if (shown_on(device, report.study, round.run) !=
        shown_on(*report.compiled.model, report.study, round.run))
      return true;
  }
  return false;
}

/// No run of any length shows the change: by the engine, on the pair that `detent gaps` asks about.
bool is_proved_invisible(const cli::DrillReport& report, const dsl::Alteration& what) {
  const dsl::Model pair =
      cli::lowered(dsl::beside_original(*report.compiled.design, what), report.compiled.sources);
  const solver::Report answer =
      solver::check_forever(pair, {.timeout = std::chrono::seconds(120), .side_findings = false});
  return !answer.verdicts.empty() && answer.verdicts.front().outcome == solver::Outcome::proved;
}

bool filled_in_agrees(const cli::DrillReport& report, std::size_t round) {
  const auto replay = replay_text(*report.compiled.model, cli::drill_csv(report, round, true), 0);
  REQUIRE(std::holds_alternative<cli::Replay>(replay));
  const auto& result = std::get<cli::Replay>(replay);
  return cli::first_parting(result) == nullptr && !result.unkept &&
         result.compared.size() == report.study.shown.size();
}

/// One hand at a time, 200 ms apart, unless the step is marked. Both contacts under one cover are one hand;
/// which designs have such contacts is known here by name.
void check_hands(const cli::DrillReport& report) {
  const bool twins = report.file.find("two_channel") != std::string::npos;
  const Value tick_us = report.study.model.tick_us;
  for (const cli::SheetRound& round : report.sheet) {
    for (std::size_t step = 1; step < round.steps.size(); ++step) {
      const cli::DrillStep& here = round.steps[step];
      CHECK((here.many_hands || here.moves.size() <= (twins ? 2U : 1U)));
      CHECK((here.hasty || (here.tick - round.steps[step - 1].until) * tick_us >= 200'000));
    }
  }
}

TEST_CASE("the bench lists of the shipped designs", "[drill]") {
  std::size_t changes = 0, told = 0, invisible = 0;
  for (const std::string& file : drilled_files()) {
    INFO(file);
    const cli::DrillReport report = report_of(file);
    REQUIRE_FALSE(report.study.no_run_of);
    CHECK_FALSE(report.study.stopped);
    CHECK(passes(*report.compiled.model, report));
    CHECK(cli::status_of(report) == cli::Status::all_hold);
    check_hands(report);
    for (std::size_t round = 0; round < report.sheet.size(); ++round) CHECK(filled_in_agrees(report, round));
    for (const dsl::Alteration& what : dsl::list_slips(*report.compiled.design, report.compiled.sources)) {
      INFO(what.name);
      ++changes;
      const dsl::Model device =
          cli::lowered(dsl::altered(*report.compiled.design, what), report.compiled.sources);
      if (!passes(device, report)) {
        ++told;
        CHECK(differs_somewhere(device, report));
      } else {
        ++invisible;
        CHECK(is_proved_invisible(report, what));
      }
    }
    std::size_t movements = cli::movements_of(report.sheet);
    WARN(file.substr(file.find("specs/"))
         << ": " << movements << " movements, " << report.sheet.size() << " rounds");
  }
  WARN(told << " of " << changes << " changes fail a step, " << invisible << " are proved to show nowhere");
}

}  // namespace
}  // namespace detent::test
