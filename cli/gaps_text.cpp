// What nobody would notice comes first, by place; then what need not be there.
#include "cli/gaps_text.hpp"

#include <fmt/format.h>

#include "cli/gaps_words.hpp"
#include "cli/heading.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

class GapsPage {
 public:
  GapsPage(const dsl::Compiled& compiled, const GapStudy& study, const std::string& allowed,
           const Terminal& terminal)
      : compiled_(compiled), study_(study), allowed_(allowed), terminal_(terminal) {}

  Page make() {
    page_.push_back(heading_of(compiled_));
    paragraph(gaps_reach_words(study_, allowed_));
    for (const Span& one : claims_that_notice_nothing(*compiled_.model, study_)) apart(one);
    for (const Slip::Fate fate : told_fates) slips(fate);
    for (const Span& one : gap_remarks(compiled_, study_)) apart(one);
    page_.push_back({});
    paragraph(gaps_summary_words(study_));
    paragraph({gap_caution()});
    return std::move(page_);
  }

 private:
  void paragraph(const Span& words) { add_paragraph(page_, "", words.text, terminal_, words.style); }
  void apart(const Span& words) {
    page_.push_back({});
    paragraph(words);
  }

  void slips(Slip::Fate fate) {
    if (count_of(study_, fate) == 0) return;
    apart(fate_words(fate));
    for (const Slip& slip : study_.slips) {
      if (slip.fate != fate) continue;
      add_paragraph(page_, fmt::format("  {:<8} ", line_words(compiled_.sources, slip.what.place)),
                    slip.what.name, terminal_);
    }
  }

  const dsl::Compiled& compiled_;
  const GapStudy& study_;
  const std::string& allowed_;
  const Terminal& terminal_;
  Page page_;
};

}  // namespace

Page gaps_page(const dsl::Compiled& compiled, const GapStudy& study, const std::string& allowed,
               const Terminal& terminal) {
  return GapsPage(compiled, study, allowed, terminal).make();
}

}  // namespace detent::cli
