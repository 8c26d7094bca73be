#include "cli/lsp/word_at.hpp"

#include "dsl/loose_tokens.hpp"

namespace detent::cli::lsp {

WordAt word_at(const Spot& spot) {
  for (const dsl::LooseToken& token : dsl::loose_tokens(spot.design->compiled.sources.text(spot.file))) {
    if (token.begin > spot.offset) break;
    if (token.kind == dsl::LooseToken::Kind::word && spot.offset <= token.end) {
      return {std::string(token.text), {spot.file, token.begin, token.end}};
    }
  }
  return {};
}

}  // namespace detent::cli::lsp
