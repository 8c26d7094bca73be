// A session by an independent client library. The script is client/session.mjs.
#include <cstdlib>

#include "tests/lsp/talk.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/npm_modules.hpp"
#include "tests/support/other_solvers.hpp"
#include "tests/support/process.hpp"
#include "tests/support/shipped.hpp"

namespace detent::test {
TEST_CASE("a client library that is not ours has a whole session", "[lsp][client]") {
  const std::string modules = modules_folder("editor");
  const std::string missing = missing_of({"node"}, modules, {"vscode-languageserver-protocol"});
  if (!missing.empty()) {
    WARN(missing << "the session is left out (.ci/install with-tests)");
    return;
  }
  const Folder folder;
  folder.write("endless.detent", endless_design());
  folder.write("library.detent",
               "part check(condition x, level l)\n  signal ready = x and l <= -99 %\n  signal go = "
               "rises(ready)\nend\n");
  folder.write("user.detent",
               "tick 20 ms // \xf0\x9f\x9a\xa4\ninclude \"library.detent\"\nchannel thrust "
               "\"\xf0\x9f\x9a\xa4 stick\" from -100 % to 100 %\n"
               "button b\nuse c = check(b, thrust)\nswitch guard is safe | run\noutput o=c.ready and c.go "
               "and guard is run\n"
               "claim possible_at_all: possible o\n");
  ProcessWishes wishes;
  wishes.limit = std::chrono::minutes(4);
  wishes.directory = folder.path();
  wishes.environment = {{"LC_ALL", "C.UTF-8"}, {"HOME", folder.path()}};
  // tests/robust/sanitize.sh tells the sanitizers by these what is Z3's own.
  for (const char* name : {"ASAN_OPTIONS", "LSAN_OPTIONS", "TSAN_OPTIONS", "UBSAN_OPTIONS"}) {
    if (const char* value = std::getenv(name)) wishes.environment.emplace_back(name, value);
  }
  const ProcessResult result = run_process(
      {*installed("node"), DETENT_SOURCE_DIR "/tests/lsp/client/session.mjs", modules, DETENT_PROGRAM,
       folder.path(), DETENT_SOURCE_DIR "/specs/boat/flaw_window_kept_alive.detent"},
      wishes);
  INFO(result.output << result.errors);
  CHECK(result.status == 0);
  CHECK(result.output.find("all as it should be") != std::string::npos);
}

}  // namespace detent::test
