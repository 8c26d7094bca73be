// What other programs say of a document that this one wrote: validators and readers that know nothing of it.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace detent::test {

/// Where a program of this machine is. Nothing where it is missing: then `missing` is told with WARN by the
/// caller; on a build server (environment variable CI) it must be there, and std::runtime_error is thrown.
[[nodiscard]] std::optional<std::string> needed(const std::string& program, const std::string& package);

struct DocumentOfSchema {
  std::string schema;    ///< path of the schema's file
  std::string document;  ///< JSON
};

/// What Python's jsonschema has against each of the documents, in order, "" for nothing; all through one
/// start of the program. Nothing where it is not installed, as needed(). Throws std::runtime_error where a
/// schema is none itself.
[[nodiscard]] std::optional<std::vector<std::string>> said_by_jsonschema(
    const std::vector<DocumentOfSchema>& documents);

/// A line of Python as Debian has it, with these arguments; nothing where the module is missing.
[[nodiscard]] std::optional<std::string> said_by_python(const std::string& module, const std::string& package,
                                                        const std::string& program,
                                                        const std::vector<std::string>& arguments);

}  // namespace detent::test
