// What an element does in one tick, in words made from the checked design: times settled, what is said by
// default spelled out. Conditions are shown as they are written.
#pragma once

#include <string>

#include "dsl/front.hpp"

namespace detent::cli {

/// One or more sentences. `name` is a signal's name; "" where no element has it.
[[nodiscard]] std::string element_words(const dsl::Compiled& compiled, const std::string& name);

/// The same for what arrives of an input over its link.
[[nodiscard]] std::string received_words(const dsl::Compiled& compiled, const std::string& name);

}  // namespace detent::cli
