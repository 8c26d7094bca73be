// What the command line asks for, as written: quantities are read when there is a design to read them
// against.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/log_wishes.hpp"

namespace detent::cli {

/// How a command that asks the engines is limited and shown.
struct CommonOptions {
  std::optional<std::string> timeout = {};
  std::optional<std::string> total_timeout = {};  ///< of the commands that ask many questions
  std::optional<std::string> memory = {};
  std::optional<std::string> jobs = {};
  std::string format = "text";
  std::optional<std::string> width = {};
  std::string color = "auto";
};

struct CheckOptions : CommonOptions {
  std::string file;
  std::vector<std::string> files = {};  ///< as the command line has them; of one, `file`
  std::vector<std::string> claims = {};
  std::optional<std::string> within = {};
  std::optional<std::string> evidence = {};  ///< folder
  bool explain = false;
  std::optional<std::string> run = {};  ///< file
  bool all_signals = false;
  bool statistics = false;
  std::optional<std::string> shard = {};
  bool small_proofs = false;  ///< no option of its own: what a proof rests on is to be told
};

struct CompareOptions : CommonOptions {
  std::string a, b;                       ///< files
  std::vector<std::string> matches = {};  ///< "a=b"
  std::optional<std::string> goal = {}, lock = {}, rest = {};
  bool brief = false;
  bool all_signals = false;
  bool statistics = false;
};

struct TuneOptions : CommonOptions {
  std::string file;
  std::optional<std::string> only = {};
  std::vector<std::string> together = {};  ///< none or two names
  std::optional<std::string> step = {};
  bool all_signals = false;
  bool statistics = false;
  std::optional<std::string> shard = {};
};

/// Shards, and how their answer is to be shown.
struct MergeOptions : CommonOptions {
  std::vector<std::string> files = {};
  std::optional<std::string> output = {};  ///< file; absent or "-": standard output
  bool all_runs = false;
  bool all_signals = false;
  bool statistics = false;
};

/// The check, and what else is to be on the page.
struct ReportOptions {
  CheckOptions check;
  std::optional<std::string> output = {};   ///< file; absent or "-": standard output
  std::optional<std::string> compare = {};  ///< the other design
  bool tune = false, faults = false, gaps = false;
};

/// A check, or part of what it is made from, in one of many forms.
struct ExportOptions {
  CheckOptions check;
  std::string as = {};                     ///< json, sarif, junit, vcd, smt2 or dot
  std::optional<std::string> output = {};  ///< file; absent or "-": standard output
  bool circuit = false;                    ///< dot: the circuit, not the elements
};

/// Standard input and output are the editor's.
struct LspOptions : CommonOptions {};

struct StepOptions : CommonOptions {
  std::string file;
  std::optional<std::string> claim = {};  ///< whose violation to begin with
};

struct ReplayOptions : CommonOptions {
  std::string file;
  std::string log;  ///< file; "-" is standard input
  LogWishes wishes = {};
  std::optional<std::string> tolerance_time = {};
  std::vector<std::string> tolerance_levels = {};
};

struct DrillOptions : CommonOptions {
  DrillOptions() { format = "md"; }
  std::string file;
  std::optional<std::string> output = {};  ///< file
  std::optional<std::string> round = {};   ///< number
  std::vector<std::string> runs = {};      ///< files
  bool masking = false;
  bool elements = false;
  bool no_changes = false;
};

struct NewOptions {
  std::optional<std::string> from = {};  ///< a safety function
  std::optional<std::string> file = {};  ///< to be written; "-" is standard output
};

struct LessonOptions : CommonOptions {
  std::optional<std::string> lesson = {};  ///< number, name, or the file of a lesson
  std::optional<std::string> with = {};    ///< a design of one's own, to be held against it
  std::optional<std::string> write = {};   ///< folder
  bool all_at_once = false;
};

struct FormatOptions {
  std::vector<std::string> files = {};  ///< "-" is standard input
  bool check = false;                   ///< only look
};

struct ShowOptions {
  std::string file;
  std::string what = "signals";
  std::string format = "text";
};

}  // namespace detent::cli
