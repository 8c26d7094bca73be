// There is no official description of JUnit XML; this is the form of the strict schemas that go round under
// the name of Ant's reports, which all readers take: one testsuites, suites in no suites, and in each suite
// properties, test cases, system-out and system-err in this order.
#include "cli/export/junit.hpp"

#include <fmt/chrono.h>
#include <fmt/format.h>

#include <filesystem>
#include <vector>

#include "cli/errors_text.hpp"
#include "cli/report/html.hpp"
#include "cli/report_text.hpp"
#include "cli/verdict_text.hpp"
#include "cli/warning_text.hpp"

namespace detent::cli {
namespace {

using report::Attributes;
using solver::Outcome;
using solver::Verdict;

constexpr Terminal paper{.width = 80, .color = false, .unicode = true};

/// XML 1.0 section 2.2 leaves two more code points out than a page of text does: U+FFFE and U+FFFF.
std::string for_xml(std::string text) {
  for (const char* forbidden : {"\xEF\xBF\xBE", "\xEF\xBF\xBF"}) {
    for (std::size_t at = text.find(forbidden); at != std::string::npos; at = text.find(forbidden, at)) {
      text.replace(at, 3, "\xEF\xBF\xBD");
    }
  }
  return text;
}

/// "specs/boat/pump_jet.detent" as packages and a class are named: specs, boat and pump_jet.
std::vector<std::string> names_of(const std::string& file) {
  std::vector<std::string> names;
  const std::filesystem::path path = std::filesystem::path(file).lexically_normal().replace_extension();
  for (const auto& part : path) {
    if (part != "/" && part != "." && part != ".." && !part.empty()) names.push_back(part.string());
  }
  if (names.empty()) names.emplace_back("design");
  return names;
}

/// What is wrong with a test case.
struct Trouble {
  const char* element = "";  ///< "failure" or "error"; "" for none
  const char* type = "";
  std::string message = {}, text = {};
};

struct Case {
  std::string name;
  Trouble trouble = {};
};

class Suite {
 public:
  /// `out` is well-formed by construction, so that it serves XML as well.
  Suite(const CheckResult& result, std::size_t id, std::time_t now, report::Html& out)
      : result_(result), id_(id), now_(now), names_(names_of(result.compiled.sources.name(0))), out_(out) {}

  void write() {
    gather();
    open("testsuite", suite());
    out_.raw("<properties>\n");
    property("reach", result_.report ? reach_words(result_) : "Nothing was looked at.");
    property("detent", DETENT_VERSION);
    out_.raw("</properties>\n");
    for (const Case& one : cases_) add(one);
    leaf("system-out", output());
    leaf("system-err", "");
    close();
  }

 private:
  // ---- what there is to say ----
  void gather() {
    if (!result_.report) {
      cases_.push_back({"the text can be read",
                        {"error", "text", "the text has errors; nothing was checked",
                         render(errors_page(result_.compiled, paper), paper)}});
    } else if (result_.report->no_run_of) {
      cases_.push_back({"the assumptions leave a run",
                        {"error", "contradiction", "assumptions contradict each other; no claim was decided",
                         render(contradiction_page(result_, paper), paper)}});
    } else {
      for (const Verdict& verdict : result_.report->verdicts) cases_.push_back(case_of(verdict));
    }
  }

  [[nodiscard]] Case case_of(const Verdict& verdict) const {
    const dsl::Model& model = *result_.compiled.model;
    const bool refuted = verdict.outcome == Outcome::refuted;
    Case made{model.claims[verdict.claim].name};
    if (!refuted && verdict.outcome != Outcome::undecided) return made;
    const Page block = verdict_block(model, result_.compiled.sources, verdict, {}, paper);
    made.trouble = {refuted ? "failure" : "error", refuted ? "refuted" : "undecided",
                    verdict_words(model, verdict).text, render(block, paper)};
    return made;
  }

  [[nodiscard]] std::string output() const {
    if (!result_.report || result_.report->no_run_of) return "";
    std::string text;
    for (const Verdict& verdict : result_.report->verdicts) {
      const dsl::Model& model = *result_.compiled.model;
      const std::string remark = remark_words(model, verdict);
      text += fmt::format("{}: {}{}\n", model.claims[verdict.claim].name, verdict_words(model, verdict).text,
                          remark.empty() ? "" : ". " + remark);
    }
    if (const Page warnings = warnings_page(result_, paper); !warnings.empty())
      text += "\n" + render(warnings, paper);
    return text + "\nA proof is about the model, not the wiring: blade or propeller off on the bench.\n";
  }

  [[nodiscard]] Attributes suite() const {
    const auto count = [&](std::string_view element) {
      std::size_t found = 0;
      for (const Case& one : cases_) found += one.trouble.element == element ? 1 : 0;
      return std::to_string(found);
    };
    const std::string package =
        fmt::format("{}", fmt::join(names_.begin(), names_.end() - (names_.size() > 1 ? 1 : 0), "."));
    // Whose machine it was is nobody's business; the schemas ask for a name.
    return {{"id", std::to_string(id_)},
            {"package", package},
            {"name", names_.back()},
            {"hostname", "localhost"},
            {"timestamp", fmt::format("{:%Y-%m-%dT%H:%M:%S}", fmt::gmtime(now_))},
            {"tests", std::to_string(cases_.size())},
            {"failures", count("failure")},
            {"errors", count("error")},
            {"time", fmt::format("{:.3f}", result_.report ? result_.report->statistics.seconds : 0.0)}};
  }

  // ---- XML ----
  void add(const Case& one) {
    // Claims are decided together, so that none has a time of its own; the suite has the time of all.
    const Attributes attributes{
        {"name", one.name}, {"classname", fmt::format("{}", fmt::join(names_, "."))}, {"time", "0"}};
    open("testcase", attributes);
    if (*one.trouble.element != '\0') {
      leaf(one.trouble.element, one.trouble.text,
           {{"message", one.trouble.message}, {"type", one.trouble.type}});
    }
    close();
  }

  void property(const char* name, const std::string& value) {
    leaf("property", "", {{"name", name}, {"value", value}});
  }

  void open(const char* tag, Attributes attributes = {}) {
    for (auto& [name, value] : attributes) value = for_xml(std::move(value));
    out_.open(tag, attributes);
    out_.raw("\n");
  }
  void leaf(const char* tag, std::string text, Attributes attributes = {}) {
    for (auto& [name, value] : attributes) value = for_xml(std::move(value));
    out_.element(tag, attributes, for_xml(std::move(text)));
    out_.raw("\n");
  }
  void close() {
    out_.close();
    out_.raw("\n");
  }

  const CheckResult& result_;
  std::size_t id_;
  std::time_t now_;
  std::vector<std::string> names_;
  std::vector<Case> cases_;
  report::Html& out_;
};

}  // namespace

std::string junit_text(const std::vector<const CheckResult*>& results, std::time_t now) {
  report::Html out;
  out.raw("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
  out.open("testsuites", {});
  out.raw("\n");
  for (std::size_t index = 0; index < results.size(); ++index)
    Suite(*results[index], index, now, out).write();
  out.close();
  out.raw("\n");
  return out.take();
}

}  // namespace detent::cli
