// What a client asks about a text: each answer is made from what is known of the designs that it belongs to.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/lsp/client.hpp"
#include "cli/lsp/workspace.hpp"

namespace detent::cli::lsp {

/// The text, or a place in it, as one design has it.
struct Spot {
  const OpenDesign* open = nullptr;
  const Analysis* design = nullptr;
  std::uint32_t file = 0;    ///< the text's number among the design's files
  std::uint32_t offset = 0;  ///< 0 where no place is asked about
};

struct Question {
  std::vector<Spot> spots;  ///< one for each design, at least one
  const Json& params;
  const Client& client;
  const OpenDesign& open;  ///< the text as its own main file
};

using Answer = Json (*)(const Question& question);

/// By method, for those that ask about a place in a text; null if it is none of them.
[[nodiscard]] Answer place_answer(const std::string& method);
/// For those that ask about a whole text.
[[nodiscard]] Answer text_answer(const std::string& method);

[[nodiscard]] Json hover(const Question& question);       // hover.cpp
[[nodiscard]] Json definition(const Question& question);  // navigation.cpp
[[nodiscard]] Json references(const Question& question);
[[nodiscard]] Json highlights(const Question& question);
[[nodiscard]] Json prepare_rename(const Question& question);  // rename.cpp
[[nodiscard]] Json rename(const Question& question);
[[nodiscard]] Json completion(const Question& question);   // completion.cpp
[[nodiscard]] Json symbols(const Question& question);      // symbols.cpp
[[nodiscard]] Json inlay_hints(const Question& question);  // inlay.cpp
[[nodiscard]] Json formatting(const Question& question);   // formatting.cpp

/// The name that is asked about, in this design.
[[nodiscard]] const dsl::Mention* mention_at(const Spot& spot);
[[nodiscard]] Json location(const Analysis& design, const dsl::Place& place, const Client& client);

}  // namespace detent::cli::lsp
