// Everything that was read for a design, so that it can be read again where the files are not.
#pragma once

#include <map>
#include <memory>
#include <string>

#include "cli/shard/strict_json.hpp"
#include "dsl/front.hpp"

namespace detent::cli {

/// What the front end was given for each path that it asked for, refusals too.
using Recording = std::map<std::string, dsl::FileText>;

/// Compiles the design that the user named, and adds what was read to `recording`.
[[nodiscard]] dsl::Compiled compile_recorded(const std::string& file, Recording& recording);
/// The same from a recording alone. A path that is not in it does not exist.
[[nodiscard]] dsl::Compiled compile_again(const std::string& file, const Recording& recording);

[[nodiscard]] Json json_recording(const Recording& recording);
/// Throws Misfit.
[[nodiscard]] Recording read_recording(const Strict& json);

}  // namespace detent::cli
