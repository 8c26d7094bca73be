// The parts that a page is put together from. Private to it.
#pragma once

#include <string>

#include "cli/report/html.hpp"
#include "cli/report/page_model.hpp"

namespace detent::cli::report {

/// The class for a style: "good", "bad", "unsure", "faint", "strong" or "".
[[nodiscard]] const char* class_of(Style style);

void add_sentence(Html& html, const Span& words);
void add_table(Html& html, const Table& table);

/// A run: what the script needs to step through it, diagram and story. Without a script it is all there, and
/// does not move.
void add_run(Html& html, const RunView& run);

/// A claim with its verdict and its run or its reasons.
void add_claim(Html& html, const ClaimView& claim);

void add_section(Html& html, const Section& section);
void add_sources(Html& html, const std::vector<SourceFile>& sources);

/// A region that is scrolled where it is too wide, by keys as well.
void open_scroll(Html& html, const std::string& label);

}  // namespace detent::cli::report
