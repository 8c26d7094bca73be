// What each word of a design is to the reader: what an editor has to highlight it as.
#pragma once

#include <nlohmann/json.hpp>
#include <set>
#include <string>

namespace detent::test {

/// {name, text, words: [{line, begin, end, kind}]}, counted from 0 and in characters as JavaScript counts
/// them; the kinds are those of highlighting/scopes.mjs. Null where the text can't be read. `seen`: words
/// that mean something to the language, and kinds, are added.
[[nodiscard]] nlohmann::json design_of(const std::string& name, const std::string& text,
                                       std::set<std::string>& seen);

}  // namespace detent::test
