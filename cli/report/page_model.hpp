// What a page shows, before there is any HTML: plain words, tables, runs and the picture of the design.
// Everything here is settled; drawing it decides nothing any more.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "cli/page.hpp"
#include "cli/report/picture.hpp"
#include "cli/report/run_view.hpp"

namespace detent::cli::report {

struct Cell {
  Span words = {};
  std::string link = {};    ///< "#f0-L34"; "" for none
  std::string spoken = {};  ///< what is read aloud instead, where the words are only a mark
};

struct Table {
  std::string caption = {};
  std::vector<std::string> head = {};
  std::vector<std::vector<Cell>> rows = {};  ///< the first cell of each is what the row is about
  bool narrow_cells = false;                 ///< many columns of a few characters
};

/// A range of values as a bar, in parts that hold or not.
struct Strip {
  struct Part {
    double share = 0;  ///< of the whole range
    Style style = Style::plain;
    std::string words;  ///< "300 ms holds"
  };
  std::string name = {};
  std::vector<Part> parts = {};
  double written = 0;  ///< where the written value stands, as a share of the range
  std::string written_words = {}, low = {}, high = {};
};

struct Heading {
  std::string text = {};
};

using Block = std::variant<Span, Heading, Table, Strip, RunView>;

/// A part of the page below the verdicts.
struct Section {
  std::string id = {}, title = {}, short_title = {};  ///< the short one for the list at the top
  std::vector<Block> blocks = {};
};

enum class Mark { proved, possible, refuted, undecided };

struct ClaimView {
  std::string id = {};  ///< "claim-3"
  Mark mark = Mark::undecided;
  Span verdict = {};  ///< "proved, in every run of any length"
  std::string name = {}, sentence = {}, text = {}, line = {}, link = {};
  std::string remark = {};
  /// Of a proof: "It rests on", and what.
  std::vector<std::pair<std::string, std::string>> reasons = {};
  std::vector<RunView> runs = {};  ///< none or one
};

struct SourceLine {
  std::string text = {};
  std::vector<std::pair<Mark, std::string>> marks = {};  ///< of claims that begin here, and their ids
};
struct SourceFile {
  std::string name = {};
  std::vector<SourceLine> lines = {};
};

struct ReportPage {
  std::string title = {}, file = {}, tick = {}, reach = {};
  Span summary = {};
  std::vector<ClaimView> claims = {};  ///< in the order of the text
  std::vector<Span> warnings = {};     ///< lines, with the spaces that they begin with
  Picture picture = {};
  Table elements = {};
  std::vector<Section> sections = {};
  std::vector<SourceFile> sources = {};
  std::string version = {};
};

}  // namespace detent::cli::report
