#include "cli/explain_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/heading.hpp"
#include "cli/verdict_text.hpp"

namespace detent::cli {
namespace {

class Explained {
 public:
  Explained(const dsl::Compiled& compiled, const solver::Verdict& verdict, const Explanation& what,
            const Terminal& terminal)
      : compiled_(compiled),
        model_(*compiled.model),
        verdict_(verdict),
        claim_(model_.claims[verdict.claim]),
        what_(what),
        terminal_(terminal) {}

  Page page() {
    add_head();
    add_section("Remembered from the tick before", what_.remembered,
                "Nothing. What happens in a tick depends on the hands of that tick alone.");
    add_section("Before tick 0", what_.before, "");
    add_section("One tick, line by line", what_.tick, "Nothing of the design has to do with it.");
    add_section("Assumed in every tick", what_.assumptions, "");
    add_heading("The claim");
    add_piece(what_.claim);
    add_section("After the tick", what_.afterwards, "");
    if (!what_.later_steps.empty()) {
      add_heading(fmt::format("The same once more, for step 2{}",
                              what_.k > 2 ? fmt::format(" to {}", what_.k) : std::string()));
      add_smt(what_.later_steps);
    }
    if (what_.proof) {
      add_proof();
    } else {
      add_search();
    }
    page_.push_back({});
    add_paragraph(page_, "",
                  "A proof is about the model, not the wiring: blade or propeller off on the bench.",
                  terminal_);
    return std::move(page_);
  }

 private:
  void add_head() {
    page_.push_back(heading_of(compiled_));
    page_.push_back({verdict_words(model_, verdict_), {"  "}, {claim_.name, Style::strong}});
    if (!claim_.doc.empty()) add_paragraph(page_, "    ", fmt::format("\"{}\"", claim_.doc), terminal_);
    add_paragraph(page_, "    ", claim_.text, terminal_);
    page_.push_back({});
    add_paragraph(
        page_, "",
        "This is what a solver is given for this claim: only what the claim looks at. The lines behind | "
        "are SMT-LIB, the language that all solvers of this kind read; they are those that --evidence "
        "writes. @0 is this step, @1 the next; a node with a number is a gate without a name of its own. "
        "Levels are whole numbers in the smallest unit of their "
        "channel; positions and stages are counted from 0.",
        terminal_, Style::faint);
  }

  void add_proof() {
    add_heading("Why it is so for all time");
    add_piece(what_.invariant.front());
    if (what_.invariant.size() == 1)
      add_paragraph(page_, "  ", "It needs no fact beside the range of what is remembered.", terminal_);
    for (auto fact = what_.invariant.begin() + 1; fact != what_.invariant.end(); ++fact)
      add_paragraph(page_, "  - ", fact->words, terminal_);
    page_.push_back({});
    const std::string happens = claim_.possible ? "can it come true" : "can the claim be broken";
    const bool one = what_.k == 1;
    add_paragraph(
        page_, "",
        "Three questions are put. If the answer to each is unsat (there is no such case), the claim is "
        "settled for every run of any length.",
        terminal_);
    add_question("Start: ",
                 one ? "is something of that not so before tick 0?"
                     : fmt::format("is something of that not so before tick 0, or {} in the first {} steps?",
                                   happens, what_.k - 1),
                 what_.start);
    add_question("Step: ", "can one step lead from where all of that is so to where it is not?", what_.step);
    add_question(
        "Claim: ",
        one ? fmt::format("{} in a step that begins where all of that is so?", happens)
            : fmt::format("{} in the last of {} steps that begin where all of that is so, if it is not "
                          "in those before?",
                          happens, what_.k),
        what_.broken);
  }

  void add_search() {
    add_heading("What is asked");
    const bool found = verdict_.run.has_value();
    add_paragraph(
        page_, "",
        found ? "No proof is there to show, because a run was found (detent check shows it). It begins with "
                "what is remembered before tick 0, and goes on step by step, each written as above with the "
                "next number behind the @, until the last one in which this is so:"
              : "Neither a proof nor a run was found in the time allowed. Looked for is a run that begins "
                "with what is remembered before tick 0, and goes on step by step, each written as above "
                "with the next number behind the @, until one in which this is so:",
        terminal_);
    // Without a proof the question about the claim asks no more than that.
    add_smt({what_.broken.smt.back()});
  }

  void add_question(const std::string& name, const std::string& words, const ExplainedPiece& piece) {
    page_.push_back({});
    add_paragraph(page_, name, words, terminal_, Style::strong);
    add_smt(piece.smt);
  }

  // ---- pieces ----
  void add_heading(const std::string& heading) {
    page_.push_back({});
    page_.push_back({{heading, Style::strong}});
  }

  void add_section(const char* heading, const std::vector<ExplainedPiece>& pieces, const char* if_none) {
    if (pieces.empty() && *if_none == '\0') return;
    add_heading(heading);
    if (pieces.empty()) add_paragraph(page_, "  ", if_none, terminal_);
    for (const ExplainedPiece& piece : pieces) add_piece(piece);
  }

  void add_piece(const ExplainedPiece& piece) {
    page_.push_back({});
    if (!piece.where.empty() || !piece.source.empty())
      page_.push_back({{piece.where, Style::strong},
                       {piece.where.empty() || piece.source.empty() ? "" : "  "},
                       {piece.source}});
    add_paragraph(page_, "  ", piece.words, terminal_);
    add_smt(piece.smt);
  }

  void add_smt(const std::vector<std::string>& smt) {
    for (const std::string& line : smt) page_.push_back({{"  | " + line, Style::faint}});
  }

  const dsl::Compiled& compiled_;
  const dsl::Model& model_;
  const solver::Verdict& verdict_;
  const dsl::Claim& claim_;
  const Explanation& what_;
  const Terminal& terminal_;
  Page page_;
};

}  // namespace

Page explain_page(const dsl::Compiled& compiled, const solver::Verdict& verdict,
                  const Explanation& explanation, const Terminal& terminal) {
  return Explained(compiled, verdict, explanation, terminal).page();
}

}  // namespace detent::cli
