// The Debian packages, made of this very build by CPack, and looked at with Debian's own tools. Whether they
// install and run on a machine that has nothing else is tried by install_deb.sh. What a control file must
// say: Debian Policy Manual, 5.3 and 5.6.
#include <filesystem>
#include <map>
#include <regex>
#include <set>
#include <sstream>

#include "tests/package/tools.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

std::string run(const std::vector<std::string>& words) {
  const ProcessResult result = run_process(words, {.limit = std::chrono::seconds(300)});
  INFO(result.output << result.errors);
  REQUIRE(result.status == 0);
  return result.output;
}

/// Both packages, packed and unpacked once for all tests here.
struct Packages {
  Folder folder;
  std::map<std::string, std::string> files;  ///< by package

  Packages() {
    const std::string cpack = std::filesystem::path(DETENT_CMAKE).replace_filename("cpack");
    run({cpack, "-G", "DEB", "--config", DETENT_BUILD_DIR "/CPackConfig.cmake", "-B", folder.path()});
    for (const auto& entry : std::filesystem::directory_iterator(folder.path())) {
      if (entry.path().extension() != ".deb") continue;
      files[entry.path().stem().string().substr(0, entry.path().stem().string().find('_'))] = entry.path();
    }
    std::filesystem::create_directory(folder.path() + "/unpacked");
    for (const auto& [name, file] : files) run({tool("dpkg-deb"), "-x", file, root(name)});
  }
  [[nodiscard]] std::string root(const std::string& name) const {
    return folder.path() + "/unpacked/" + name;
  }
  [[nodiscard]] std::string field(const std::string& name, const std::string& which) const {
    std::string text = run({tool("dpkg-deb"), "-f", files.at(name), which});
    while (!text.empty() && text.back() == '\n') text.pop_back();
    return text;
  }
};

const Packages& packages() {
  static const Packages both;
  return both;
}

bool tools_here() {
  return has_tool("dpkg-deb") && has_tool("dpkg-shlibdeps") && has_tool("file");
}

/// "libz3-4 (>= 4.8.12), …" to the names.
std::set<std::string> names_in(const std::string& relation) {
  std::set<std::string> names;
  std::istringstream list(relation);
  for (std::string one; std::getline(list, one, ',');) {
    std::istringstream words(one);
    words >> one;
    names.insert(one);
  }
  return names;
}

}  // namespace

TEST_CASE("there are two packages, and each says what it is and needs") {
  if (!tools_here()) return;
  REQUIRE(packages().files.size() == 2);
  const std::regex maintainer("[^<>]+ <[^ <>@]+@[^ <>@]+>");
  for (const auto& [name, file] : packages().files) {
    INFO(name);
    CHECK(packages().field(name, "Package") == name);
    CHECK(std::regex_match(packages().field(name, "Maintainer"), maintainer));
    CHECK(
        packages().field(name, "Architecture") ==
        run({tool("dpkg"), "--print-architecture"}).substr(0, packages().field(name, "Architecture").size()));
    const std::string description = packages().field(name, "Description");
    CHECK(description.find('\n') <= 80);
    CHECK(has(description, "formal checker for safety interlocks"));
    CHECK(has(run_detent({"--version"}).output, "detent " + packages().field(name, "Version") + ","));
  }
  // Every library that the program names is one of a package in the list, as Debian's own tool has it.
  const std::set<std::string> needs = names_in(packages().field("detent", "Depends"));
  for (const char* one : {"libc6", "libstdc++6"}) CHECK(needs.contains(one));
  const std::string linked = run({tool("objdump"), "-p", DETENT_PROGRAM});
  for (const auto& [library, package] : std::map<std::string, std::string>{
           {"libz3.so", "libz3-4"}, {"libedit.so", "libedit2"}, {"libfmt.so", "libfmt"}}) {
    INFO(library);
    const auto found =
        needs.lower_bound(package);  // what begins so: libfmt9 and libfmt10 are packages of libfmt
    CHECK((found != needs.end() && found->starts_with(package)) == has(linked, library));
  }
  CHECK(names_in(packages().field("detent", "Recommends")).contains("graphviz"));  // `dot`, for detent report
  for (const char* one : {"libz3-dev", "libfmt-dev"}) {
    CHECK(names_in(packages().field("libdetent-dev", "Depends")).contains(one));
  }
}

TEST_CASE("files in the packages belong to root, can be read by all, and are where Debian looks for them") {
  if (!tools_here()) return;
  for (const auto& [name, file] : packages().files) {
    std::istringstream list(run({tool("dpkg-deb"), "-c", file}));
    int files = 0;
    for (std::string line; std::getline(list, line); ++files) {
      INFO(line);
      CHECK(std::regex_search(line, std::regex("^(drwxr-xr-x|-rw-r--r--|-rwxr-xr-x) root/root ")));
      CHECK(line.starts_with("-rwx") == line.ends_with("./usr/bin/detent"));
    }
    CHECK(files > 10);
    CHECK(
        has(text_of(packages().root(name) + "/usr/share/doc/" + name + "/copyright"), "The detent authors"));
    CHECK(std::filesystem::exists(packages().root(name) + "/usr/share/doc/" + name + "/changelog.gz"));
  }
  const std::string root = packages().root("detent");
  for (const char* file :
       {"/usr/share/man/man1/detent.1.gz", "/usr/share/man/man1/detent-check.1.gz",
        "/usr/share/bash-completion/completions/detent", "/usr/share/zsh/vendor-completions/_detent",
        "/usr/share/fish/vendor_completions.d/detent.fish", "/usr/share/detent/check.schema.json"}) {
    CHECK(std::filesystem::exists(root + file));
  }
  CHECK(std::filesystem::exists(packages().root("libdetent-dev") + "/usr/include/detent/dsl/front.hpp"));
  // Files that the manual names.
  const std::string page = text_of(manual_folder() + "/detent.1");
  const std::regex path(R"(/usr/share/[a-zA-Z/.]+[a-zA-Z])");
  for (std::sregex_iterator at(page.begin(), page.end(), path), end; at != end; ++at) {
    INFO(at->str());
    CHECK(std::filesystem::exists(root + at->str()));
  }
}

TEST_CASE("the program in the package runs, on the designs in the package") {
  if (!tools_here()) return;
  const std::string program = packages().root("detent") + "/usr/bin/detent";
  const std::string specs = packages().root("detent") + "/usr/share/detent/specs/";
  CHECK(run({program, "--version"}) == run_detent({"--version"}).output);
  const ProcessResult boat = run_process({program, "check", specs + "boat/pump_jet.detent"});
  CHECK(boat.status == 0);
  CHECK(has(boat.output, "7 proved"));
  const ProcessResult flawed = run_process(
      {program, "check", specs + "boat/flaw_window_kept_alive.detent", "--claim", "window_closes"});
  CHECK(flawed.status == 1);
}

}  // namespace detent::test
