// From the text of a small design to one that is altered by an alteration's name.
#pragma once

#include <string>
#include <vector>

#include "dsl/alter.hpp"
#include "dsl/fault_list.hpp"
#include "dsl/front.hpp"

namespace detent::test {

/// The front end's answer to a text; throws std::runtime_error with the messages where there is any error.
[[nodiscard]] dsl::Compiled front(const std::string& text);

/// Throws std::runtime_error where none of the list has this name.
[[nodiscard]] const dsl::Alteration& named_alteration(const std::vector<dsl::Alteration>& list,
                                                      const std::string& name);
[[nodiscard]] std::vector<std::string> names_of(const std::vector<dsl::Alteration>& list);

/// The model of a design that is not expected to have any mistake left.
[[nodiscard]] dsl::Model model_of(const dsl::Design& design, const dsl::Sources& sources);

/// The model of a text with faults, called by their names.
[[nodiscard]] dsl::Model with_fault(const std::string& text, const std::vector<std::string>& names,
                                    const dsl::FaultOptions& options = {});
/// The model of a text with one slip.
[[nodiscard]] dsl::Model with_slip(const std::string& text, const std::string& name);

}  // namespace detent::test
