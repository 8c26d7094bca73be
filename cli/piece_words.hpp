// A piece of a claim in the words of one moment of a run: "live has just gone on" for `rises(live)`; a piece
// that is more than one simple fact is shown as written: "'live or armed' is true".
#pragma once

#include <optional>
#include <string>

#include "cli/fact.hpp"

namespace detent::cli {

class PieceWords {
 public:
  PieceWords(const dsl::Model& model, const solver::Trace& trace, const dsl::Piece& piece);

  [[nodiscard]] const std::optional<Fact>& fact() const { return fact_; }

  /// It is true in the last tick: "live has just gone on", "jet is 100 %".
  [[nodiscard]] std::string holding() const;
  /// In general: "live goes on", "guard is at safe".
  [[nodiscard]] std::string clause() const;
  /// At an earlier tick: "live went on", "guard was at safe".
  [[nodiscard]] std::string past() const;
  /// For a while up to now: "live has been on".
  [[nodiscard]] std::string lasting() const;
  /// "live must be off": `must` is "must" or "had to".
  [[nodiscard]] std::string wish(const std::string& must) const;
  /// That it is not wanted: "live must not be on", "drum must be 0" for `drum != 0`; with `ever`: "live must
  /// never be on", "drum must be 0 at all times".
  [[nodiscard]] std::string ban(bool ever) const;
  /// What is there instead, in the last tick: "it is on", "it has just gone to 100 %", "it is false".
  [[nodiscard]] std::string instead() const;
  /// The same with the signal's name: "live is on", "'live or armed' is false".
  [[nodiscard]] std::string named_instead() const;

 private:
  [[nodiscard]] const dsl::Signal& signal() const { return model_->signals[fact_->signal]; }
  [[nodiscard]] Value now(std::uint32_t signal) const;
  [[nodiscard]] std::string state() const;
  [[nodiscard]] std::string with_other(const std::string& being) const;

  const dsl::Model* model_;
  const solver::Trace* trace_;
  std::string text_;
  bool is_true_;
  std::optional<Fact> fact_;
};

}  // namespace detent::cli
