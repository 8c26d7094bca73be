// Pieces of claims in words: simple facts are said, everything else is shown as written.
#include "cli/piece_words.hpp"
#include "tests/cli/sample.hpp"
#include "tests/support/catch.hpp"

namespace detent::test {
namespace {

/// A boat that has gone live in its last tick, with the stick up and the link lost and back again.
const char* const text = R"(tick 20 ms
channel thrust from -100 % to 100 % step 1 %
channel limit from -100 % to 100 % step 1 %
switch  guard is safe | run
switch  mode is low | middle | high
button  stop
link    radio carries thrust lost: thrust -100 %
latch live set guard is run reset stop
stages lift is down | up
  down -> up when rises(live)
output jet = thrust when live else -100 %
claim piece: always )";

struct Spoken {
  std::string holding, clause, past, wish, ban, instead, named_instead;
};

/// Tick 0: everything at rest; tick 1: guard to run, thrust up, the link lost; the last tick: the link is
/// back.
Spoken spoken(const std::string& piece) {
  const dsl::Compiled design = compiled_text(text + ("(" + piece + ")\n"));
  const dsl::Model& model = *design.model;
  const solver::Run run = run_of(
      model, 2, {{0, "thrust", 0}, {0, "limit", 0}, {0, "radio", 1}, {1, "radio", 0}, {1, "guard", 1}});
  const solver::Trace trace = solver::replay(model.circuit, run);
  const cli::PieceWords words(model, trace, model.claims[0].first);
  return {words.holding(), words.clause(),  words.past(),         words.wish("must"),
          words.ban(true), words.instead(), words.named_instead()};
}

}  // namespace

TEST_CASE("states and edges of conditions, buttons, switches, stages and links are said") {
  CHECK(spoken("live").holding == "live has just gone on");
  CHECK(spoken("not live").wish == "live must be off");
  CHECK(spoken("not live").instead == "it has just gone on");
  CHECK(spoken("live").ban == "live must never be on");
  CHECK(spoken("stop").wish == "stop must be pressed");
  CHECK(spoken("stop").instead == "it is released");
  CHECK(spoken("rises(live)").clause == "live goes on");
  CHECK(spoken("falls(live)").past == "live went off");
  CHECK(spoken("rises(stop)").clause == "stop is pressed");
  CHECK(spoken("guard is safe").wish == "guard must be at safe");
  CHECK(spoken("guard is not safe").clause == "guard is at run");  // two positions: the other one
  CHECK(spoken("mode is not high").clause == "mode is not at high");
  CHECK(spoken("mode is not high").ban == "mode must be at high at all times");
  CHECK(spoken("not hand(stop)").wish == "stop must be released");
  CHECK(spoken("rises(guard is run)").past == "guard was turned to run");
  CHECK(spoken("lift is up").holding == "lift has just gone to up");
  CHECK(spoken("radio is lost").wish == "the radio link must be lost");
  CHECK(spoken("falls(radio is lost)").holding == "the radio link has just come back");
  CHECK(spoken("falls(radio is lost)").clause == "the radio link comes back");
}

TEST_CASE("an edge that is over is not said to be there") {
  CHECK(spoken("falls(stop)").named_instead == "stop has been released for longer");
  CHECK(spoken("rises(stop)").named_instead == "stop is released");
  CHECK(spoken("rises(live)").named_instead == "live has just gone on");
}

TEST_CASE("comparisons are said with what is there instead") {
  CHECK(spoken("jet == -100 %").wish == "jet must be -100 %");
  CHECK(spoken("jet == -100 %").instead == "it has just gone to 0 %");
  CHECK(spoken("jet != 0 %").ban == "jet must be 0 % at all times");
  CHECK(spoken("jet <= 5 %").ban == "jet must be more than 5 % at all times");
  CHECK(spoken("jet >= limit").wish == "jet must be at least limit (0 %)");
}

TEST_CASE("what is more than one simple fact is shown as written") {
  for (const char* piece : {"live and stop", "live or guard is safe", "previous(live)", "not (live or stop)",
                            "jet <= thrust + 1 %", "falls(mode is high)", "held(live, 1 s)"}) {
    INFO(piece);
    const Spoken words = spoken(piece);
    CHECK(words.wish.find(piece) != std::string::npos);
    CHECK(words.wish.find("must be true") != std::string::npos);
  }
}

}  // namespace detent::test
