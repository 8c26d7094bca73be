// Every construct of the language, as the reference (dsl/README.md) writes it, and the tree it becomes.
#include "tests/dsl/reading_support.hpp"
#include "tests/support/catch.hpp"

using namespace detent::dsl;

TEST_CASE("reading: an empty text is an empty tree") {
  CHECK(listing("").empty());
  CHECK(listing(" \t\r\n// only a comment").empty());
}

TEST_CASE("reading: title, tick and button") {
  CHECK(listing("design \"a boat\" tick 20 ms button stop \"the red one\"") ==
        "design \"a boat\"\n"
        "tick\n  length\n    20 ms\n"
        "button stop \"the red one\"\n");
}

TEST_CASE("reading: channel") {
  CHECK(listing("channel yaw from -100 % to 100 %") ==
        "channel yaw\n  from\n    negate\n      100 %\n  to\n    100 %\n");
  CHECK(listing("channel us \"doc\" from 1000 us to 2000 us step 4 us moving at most 400 us per s") ==
        "channel us \"doc\"\n  from\n    1000 us\n  to\n    2000 us\n  step\n    4 us\n"
        "  moving at most\n    400 us\n  per s\n");
}

TEST_CASE("reading: a rate is per ms, s, min or tick, though min and tick are words of the language") {
  for (const std::string unit : {"ms", "s", "min", "tick"}) {
    const ReadText read = read_text("channel a from 0 to 9 moving at most 1 per " + unit + " button b");
    REQUIRE(read.diagnostics.empty());
    const auto& channel = std::get<ChannelDeclaration>(read.tree.declarations.at(0).body);
    CHECK(channel.rate_unit == unit);
    CHECK(read.sources.text(channel.rate_unit_place) == unit);
    CHECK(channel.rate->text.empty());
  }
}

TEST_CASE("reading: switch") {
  CHECK(listing("switch guard is safe | run|test") ==
        "switch guard\n  position safe\n  position run\n  position test\n");
}

TEST_CASE("reading: some words of the language may be positions and stages") {
  CHECK(listing("switch flap is up | down | on | set | reset") ==
        "switch flap\n  position up\n  position down\n  position on\n  position set\n  position reset\n");
  CHECK(
      listing("signal a = flap is up signal b = flap is not down") ==
      "signal a\n  value\n    is up\n      name flap\nsignal b\n  value\n    is_not down\n      name flap\n");
  CHECK(listing("stages s is up | down up -> down when a any -> up when b") ==
        "stages s\n  stage up\n  stage down\n  move up -> down\n    when\n      name a\n"
        "  move any -> up\n    when\n      name b\n");
}

TEST_CASE("reading: link") {
  CHECK(
      listing("link radio carries thrust, guard, stop, flap, lever\n"
              "  lost: thrust -100 %, guard safe, stop released, flap up, lever base + 5 %") ==
      "link radio\n  carries thrust\n  carries guard\n  carries stop\n  carries flap\n  carries lever\n"
      "  lost thrust\n    negate\n      100 %\n  lost guard\n    name safe\n  lost stop\n    name released\n"
      "  lost flap\n    name up\n  lost lever\n    add\n      name base\n      5 %\n");
  CHECK(listing("link radio carries thrust lost: as before") ==
        "link radio\n  carries thrust\n  lost as before\n");
}

TEST_CASE("reading: signal and output") {
  CHECK(listing("signal a = b") == "signal a\n  value\n    name b\n");
  CHECK(listing("output jet = thrust") == "output jet\n  value\n    name thrust\n");
  CHECK(listing("output jet = thrust when live else 0 %") ==
        "output jet\n  value\n    name thrust\n  when\n    name live\n  else\n    0 %\n");
}

TEST_CASE("reading: pulse, delay and linger") {
  CHECK(listing("pulse w on a for 8 s") == "pulse w\n  on\n    name a\n  for\n    8 s\n");
  CHECK(listing("pulse w on a or b for patience + 1 s restarting cancelled by c") ==
        "pulse w\n  on\n    or\n      name a\n      name b\n  for\n    add\n      name patience\n      1 s\n"
        "  restarting\n  cancelled by\n    name c\n");
  CHECK(listing("delay d on a for 500 ms") == "delay d\n  on\n    name a\n  for\n    500 ms\n");
  CHECK(listing("linger l on a for 2 min") == "linger l\n  on\n    name a\n  for\n    2 min\n");
}

TEST_CASE("reading: latch") {
  const std::string head = "latch l\n  set\n    name a\n  reset\n    name b\n";
  CHECK(listing("latch l set a reset b") == head + "  reset wins\n  starting off\n");
  CHECK(listing("latch l set a reset b reset wins starting off") == head + "  reset wins\n  starting off\n");
  CHECK(listing("latch l set a reset b set wins starting on") == head + "  set wins\n  starting on\n");
}

TEST_CASE("reading: counter and keep") {
  CHECK(listing("counter c up a from 0 to 3") == "counter c\n  up\n    name a\n  from\n    0\n  to\n    3\n");
  CHECK(listing("counter c up a down b reset d from -3 to n") ==
        "counter c\n  up\n    name a\n  down\n    name b\n  reset\n    name d\n"
        "  from\n    negate\n      3\n  to\n    name n\n");
  CHECK(listing("keep k = yaw when rises(stop) starting 0 %") ==
        "keep k\n  value\n    name yaw\n  when\n    call rises\n      name stop\n  starting\n    0 %\n");
}

TEST_CASE("reading: stages") {
  CHECK(
      listing("stages s is a | b\n a -> b when x\n b -> a after 8 s\n a -> b after 1 tick when y\n"
              " any -> a when z\nbutton x") ==
      "stages s\n  stage a\n  stage b\n  move a -> b\n    when\n      name x\n"
      "  move b -> a\n    after\n      8 s\n  move a -> b\n    after\n      1 tick\n    when\n      name y\n"
      "  move any -> a\n    when\n      name z\nbutton x\n");
}

TEST_CASE("reading: tunable") {
  CHECK(listing("tunable p = 8 s from 1 s to 15 s") ==
        "tunable p\n  value\n    8 s\n  from\n    1 s\n  to\n    15 s\n");
}

TEST_CASE("reading: power-up") {
  for (const std::string rule : {"counted", "ignored", "either"}) {
    CHECK(listing("power_up edges " + rule) == "power_up\n  edges " + rule + "\n");
  }
  CHECK(listing("at power_up: not stop") == "at power_up\n  condition\n    not\n      name stop\n");
}

TEST_CASE("reading: every form of claim") {
  const std::string p = "    first\n      name p\n";
  const std::string q = "    second\n      name q\n";
  const std::string t = "    duration\n      2 s\n";
  const auto body = [](const std::string& text) { return listing("claim c: " + text); };
  CHECK(body("always p") == "claim c\n  always\n" + p);
  CHECK(body("never p") == "claim c\n  never\n" + p);
  CHECK(body("never p while q") == "claim c\n  never_while\n" + p + q);
  CHECK(body("whenever p: q") == "claim c\n  whenever\n" + p + q);
  CHECK(body("whenever p: q within 2 s") == "claim c\n  whenever_within\n" + p + q + t);
  CHECK(body("whenever p: q for 2 s") == "claim c\n  whenever_for\n" + p + q + t);
  CHECK(body("possible p") == "claim c\n  possible\n" + p);
  CHECK(body("possible p within 2 s") == "claim c\n  possible_within\n" + p + t);
  CHECK(body("p only within 2 s after q") == "claim c\n  only_within\n" + p + q + t);
  CHECK(body("p only after q") == "claim c\n  only_after\n" + p + q);
  CHECK(body("p only while q") == "claim c\n  only_while\n" + p + q);
  CHECK(body("p lasts at least 2 s") == "claim c\n  lasts_at_least\n" + p + t);
  CHECK(body("p lasts at most 2 s") == "claim c\n  lasts_at_most\n" + p + t);
}

TEST_CASE("reading: claims and assumptions have a name and a sentence") {
  CHECK(listing("claim c \"a sentence\": always p") ==
        "claim c \"a sentence\"\n  always\n    first\n      name p\n");
  CHECK(listing("assume a \"\": never p") == "assume a\n  never\n    first\n      name p\n");
}

TEST_CASE("reading: the words of a claim may be names elsewhere, where that is clear") {
  CHECK(listing("button lost button pressed button ms button s button most button per button edges") ==
        "button lost\nbutton pressed\nbutton ms\nbutton s\nbutton most\nbutton per\nbutton edges\n");
}

TEST_CASE("reading: parts and their use") {
  CHECK(listing("part p \"doc\" (condition x, level y, count n, duration t)\n"
                "  signal ok = held(x, t)\n  part q() end\nend\nuse g = p(stop, -5 %, 3, 8 s) use h = q()") ==
        "part p \"doc\"\n  parameter condition x\n  parameter level y\n  parameter count n\n"
        "  parameter duration t\n  signal ok\n    value\n      call held\n        name x\n        name t\n"
        "  part q\nuse g\n  part p\n  argument\n    name stop\n  argument\n    negate\n      5 %\n"
        "  argument\n    3\n  argument\n    8 s\nuse h\n  part q\n");
}

TEST_CASE("reading: include is left as it stands") {
  CHECK(listing("include \"lib/parts.detent\"") == "include\n  file \"lib/parts.detent\"\n");
}

TEST_CASE(
    "reading: declarations need no line of their own, and a byte order mark and Windows line ends are read") {
  CHECK(listing("\xEF\xBB\xBF"
                "button a button b\r\nbutton\r\nc") == "button a\nbutton b\nbutton c\n");
}

TEST_CASE("reading: letters of all languages may stand in comments and texts in quotes") {
  CHECK(listing("button a \"gr\xC3\xBC\xC3\x9F\" // \xE4\xB8\xAD\xE6\x96\x87") ==
        "button a \"gr\xC3\xBC\xC3\x9F\"\n");
}

TEST_CASE("reading: a place covers its declaration and nothing round it") {
  const std::string text = "  // note\n button a  \n part p ( )  signal b = ( a )  end  tick 20 ms // end";
  const ReadText read = read_text(text);
  REQUIRE(read.diagnostics.empty());
  const auto& all = read.tree.declarations;
  REQUIRE(all.size() == 3);
  CHECK(read.sources.text(all[0].place) == "button a");
  CHECK(read.sources.text(all[0].name.place) == "a");
  CHECK(read.sources.text(all[1].place) == "part p ( )  signal b = ( a )  end");
  CHECK(read.sources.text(std::get<PartDeclaration>(all[1].body).body[0].place) == "signal b = ( a )");
  CHECK(read.sources.text(all[2].place) == "tick 20 ms");
  const ReadText claim = read_text("claim c : whenever a : b within 2 s  \n");
  const auto& body = std::get<ClaimDeclaration>(claim.tree.declarations.at(0).body).body;
  CHECK(claim.sources.text(body.place) == "whenever a : b within 2 s");
  const ReadText stages = read_text("stages s is a | b a -> b after 2 s when x \n any -> a when b\n");
  const auto& moves = std::get<StagesDeclaration>(stages.tree.declarations.at(0).body).moves;
  CHECK(stages.sources.text(moves.at(0).place) == "a -> b after 2 s when x");
  CHECK(stages.sources.text(moves.at(1).place) == "any -> a when b");
}
