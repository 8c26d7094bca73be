// Random designs as texts: every element, expression, claim form and setting of the language, small enough
// (times of a few ticks, inputs of a few values) that all their short runs can be looked at.
#pragma once

#include <cstdint>
#include <functional>
#include <string>

namespace detent::test {

/// A text that compiles without errors. The same seed gives the same text.
[[nodiscard]] std::string random_design(std::uint64_t seed);

/// The shortest text that can be had from this one by leaving out lines, as long as `fails` is true of it.
/// `fails` must answer false for a text that does not compile.
[[nodiscard]] std::string shrunk(const std::string& text,
                                 const std::function<bool(const std::string&)>& fails);

}  // namespace detent::test
