// A small check of JSON documents against a JSON Schema: as much of draft 2020-12 as our own schemas use.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace detent::test {

/// Where and how the document does not obey the schema; empty if it does. A keyword of the schema that is not
/// understood is a complaint too, so that nothing is passed over.
[[nodiscard]] std::vector<std::string> schema_complaints(const nlohmann::json& schema,
                                                         const nlohmann::json& document);

}  // namespace detent::test
