// A bench list in words: what both of its readable forms are made of. Private to them.
#pragma once

#include <string>
#include <vector>

#include "cli/drill_report.hpp"

namespace detent::cli {

struct DrillLine {
  std::string number;              ///< "2.3": round and step
  std::string when;                ///< "3.5 s": since power-up
  std::vector<std::string> doing;  ///< what to do
  std::vector<std::string> expected;
  std::string mark;  ///< "" or why a hand can't do it
};

struct DrillSection {
  std::string title, note;
  std::vector<DrillLine> lines;
};

[[nodiscard]] std::vector<DrillSection> drill_sections(const DrillReport& report);

[[nodiscard]] std::string drill_title(const DrillReport& report);
/// Before the first step and after the last.
[[nodiscard]] std::vector<std::string> cautions_before();
[[nodiscard]] std::vector<std::string> cautions_after();
/// What the list covers, in sentences.
[[nodiscard]] std::vector<std::string> drill_summary(const DrillReport& report);

/// A heading and what falls under it: what no run does, what is open.
struct DrillRemains {
  std::string title;
  std::vector<std::string> items;
};
[[nodiscard]] std::vector<DrillRemains> drill_remains(const DrillReport& report);

}  // namespace detent::cli
