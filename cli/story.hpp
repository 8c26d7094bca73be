// A run told to a person who is to act it out: what the hands do and when, what the design answers, and how
// long nothing is touched in between.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "cli/moments.hpp"
#include "cli/page.hpp"
#include "dsl/model.hpp"
#include "solver/run.hpp"

namespace detent::cli {

struct StoryLine {
  std::string when;  ///< "8.02 s, tick 401"; "" for a line that belongs to the one before
  std::string text;
  dsl::Value tick = 0;  ///< at which it happens; of what goes on for a while, at which it begins
};

struct StoryWishes {
  dsl::NodeId about = dsl::no_node;       ///< what the run leads to: what did not lead there is left out
  std::vector<std::uint32_t> names = {};  ///< signals that are told in any case
  std::string ending = {};                ///< the last sentence
  bool all_signals = false;
};

[[nodiscard]] std::vector<StoryLine> tell(const dsl::Model& model, const solver::Trace& trace,
                                          const StoryWishes& wishes);

/// What happens in one moment: the link's fate, the hands, and what the design answers.
void tell_moment(const dsl::Model& model, const Moment& moment, std::vector<StoryLine>& lines);

/// The lines in two columns, wrapped; on a narrow page one below the other.
[[nodiscard]] Page story_page(const std::vector<StoryLine>& lines, const std::string& indent,
                              const Terminal& terminal);

}  // namespace detent::cli
