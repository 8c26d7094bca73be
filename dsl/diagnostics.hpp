// What is wrong with a text, as values: gathered by every stage, printed by none of them.
// The manner of a message: what was seen, at the narrowest place, in the user's own words; then the mend.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "dsl/source.hpp"

namespace detent::dsl {

/// Whether the design can still be compiled.
enum class Severity {
  error,    ///< it can't: there is no model
  warning,  ///< it can, but something looks wrong
};

/// One entry for each line of diagnostics.def, which is the register of all that can be said.
/// dsl/README.md says of each what it means ("What the checker says of a text").
enum class Code {
/// \cond
#define DETENT_DIAGNOSTIC(name, severity) name,
#include "dsl/diagnostics.def"
#undef DETENT_DIAGNOSTIC
  /// \endcond
};

/// "unknown-name": does not change from version to version.
[[nodiscard]] std::string_view code_name(Code code);
/// As the register has it.
[[nodiscard]] Severity code_severity(Code code);

/// A second place that helps to understand the first (the earlier declaration, a station of a loop, …).
struct Note {
  Place place;       ///< where
  std::string text;  ///< what is there
};

/// One thing that is wrong with a text, or looks wrong.
struct Diagnostic {
  Code code{};                   ///< what it is, for programs
  Place place;                   ///< the narrowest that shows it
  std::string message;           ///< what was seen, one sentence without a full stop
  std::string mend = {};         ///< what to write instead; empty where nothing better is known
  std::vector<Note> notes = {};  ///< other places that help

  /// Of its code.
  [[nodiscard]] Severity severity() const { return code_severity(code); }
};

/// Gathered by every step, in the order in which they were seen.
using Diagnostics = std::vector<Diagnostic>;

/// Whether any of them is an error.
[[nodiscard]] bool has_errors(const Diagnostics& diagnostics);

/// Sorted by place, without repetitions: the order in which a person mends a file.
void sort_by_place(Diagnostics& diagnostics);

/// The name among `known` that a person most likely meant by `seen`, or "" where none is near.
[[nodiscard]] std::string nearest_name(std::string_view seen, const std::vector<std::string>& known);

/// Plain text, several lines, ends with a newline:
///   boat.detent:7:24: error: no input or element is called 'thurst'  [unknown-name]
///     7 | signal idle = thurst <= -99 %
///       |               ^^^^^^
///     mend: did you mean 'thrust'?
[[nodiscard]] std::string to_text(const Diagnostic& diagnostic, const Sources& sources);

}  // namespace detent::dsl
