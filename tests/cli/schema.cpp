// JSON Schema: "JSON Schema: A Media Type for Describing JSON Documents", draft 2020-12 (keywords from
// memory): type, enum, const, required, properties, additionalProperties, items, minimum, maximum, $ref into
// $defs and to a schema beside it in cli/.
#include "tests/cli/schema.hpp"

#include <algorithm>
#include <fstream>
#include <set>

namespace detent::test {
namespace {

using nlohmann::json;

class Checker {
 public:
  explicit Checker(const json& root) : root_(root) {}

  void check(const json& schema, const json& value, const std::string& where) {
    for (const auto& [keyword, argument] : schema.items())
      check_keyword(keyword, argument, schema, value, where);
  }

  std::vector<std::string> complaints;

 private:
  void check_keyword(const std::string& keyword, const json& argument, const json& schema, const json& value,
                     const std::string& where) {
    static const std::set<std::string> words{"$schema", "$defs", "title", "description"};
    if (words.count(keyword) != 0) return;
    if (keyword == "$ref") {
      check_elsewhere(argument.get<std::string>(), value, where);
    } else if (keyword == "type") {
      demand(has_type(argument, value), where, "has another type than " + argument.dump());
    } else if (keyword == "enum") {
      demand(std::find(argument.begin(), argument.end(), value) != argument.end(), where,
             "is none of the enum");
    } else if (keyword == "const") {
      demand(value == argument, where, "is not the constant");
    } else if (keyword == "minimum") {
      demand(!value.is_number() || value >= argument, where, "is too small");
    } else if (keyword == "maximum") {
      demand(!value.is_number() || value <= argument, where, "is too large");
    } else {
      check_parts(keyword, argument, schema, value, where);
    }
  }

  void check_parts(const std::string& keyword, const json& argument, const json& schema, const json& value,
                   const std::string& where) {
    if (keyword == "required") {
      for (const json& name : argument) {
        demand(!value.is_object() || value.contains(name), where, "has no member " + name.dump());
      }
    } else if (keyword == "properties") {
      check_properties(argument, value, where);
    } else if (keyword == "additionalProperties") {
      check_additional(argument, schema, value, where);
    } else if (keyword == "items") {
      for (std::size_t i = 0; value.is_array() && i < value.size(); ++i) {
        check(argument, value[i], where + "/" + std::to_string(i));
      }
    } else {
      demand(false, where, "the schema has a keyword that this check does not know: " + keyword);
    }
  }

  void check_properties(const json& properties, const json& value, const std::string& where) {
    if (!value.is_object()) return;
    for (const auto& [name, schema] : properties.items()) {
      if (value.contains(name)) check(schema, value[name], where + "/" + name);
    }
  }

  void check_additional(const json& argument, const json& schema, const json& value,
                        const std::string& where) {
    if (!value.is_object()) return;
    for (const auto& [name, member] : value.items()) {
      if (schema.contains("properties") && schema["properties"].contains(name)) continue;
      if (argument == false) {
        demand(false, where, "has a member that the schema does not know: " + name);
      } else {
        check(argument, member, where + "/" + name);
      }
    }
  }

  static bool has_type(const json& type, const json& value) {
    if (type.is_array()) {
      return std::any_of(type.begin(), type.end(), [&](const json& one) { return has_type(one, value); });
    }
    if (type == "integer") return value.is_number_integer();
    if (type == "number") return value.is_number();
    return type == value.type_name();
  }

  void check_elsewhere(const std::string& reference, const json& value, const std::string& where) {
    if (reference.starts_with('#'))
      return check(root_.at(json::json_pointer(reference.substr(1))), value, where);
    std::ifstream file(DETENT_SOURCE_DIR "/cli/" + reference);
    const json other = json::parse(file);
    Checker whole(other);
    whole.check(other, value, where);
    complaints.insert(complaints.end(), whole.complaints.begin(), whole.complaints.end());
  }

  void demand(bool holds, const std::string& where, const std::string& complaint) {
    if (!holds) complaints.push_back((where.empty() ? "/" : where) + " " + complaint);
  }

  const json& root_;
};

}  // namespace

std::vector<std::string> schema_complaints(const json& schema, const json& document) {
  Checker checker(schema);
  checker.check(schema, document, "");
  return checker.complaints;
}

}  // namespace detent::test
