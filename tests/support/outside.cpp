#include "tests/support/outside.hpp"

#include <cstdlib>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "tests/support/folder.hpp"
#include "tests/support/other_solvers.hpp"
#include "tests/support/process.hpp"

namespace detent::test {
namespace {

/// The draft is the one that the schema names; formats are not looked at.
constexpr const char* judge = R"(
import json, sys, warnings
warnings.simplefilter('ignore', DeprecationWarning)
import jsonschema
pairs = json.load(open(sys.argv[1], encoding='utf-8'))
judges, said = {}, []
for pair in pairs:
    if pair['schema'] not in judges:
        schema = json.load(open(pair['schema'], encoding='utf-8'))
        kind = jsonschema.validators.validator_for(schema)
        kind.check_schema(schema)
        # RefResolver finds the schemas that this one names beside itself; newer versions call it deprecated.
        judges[pair['schema']] = kind(schema, resolver=jsonschema.RefResolver('file://' + pair['schema'], schema))
    errors = list(judges[pair['schema']].iter_errors(json.loads(pair['document'])))
    said.append('; '.join('/' + '/'.join(map(str, e.absolute_path)) + ': ' + e.message[:300] for e in errors[:5]))
print(json.dumps(said))
)";

void must_be_here(const std::string& package) {
  if (std::getenv("CI") != nullptr) {  // NOLINT(concurrency-mt-unsafe)
    throw std::runtime_error(package + " is not installed; on a build server it must be");
  }
}

}  // namespace

std::optional<std::string> needed(const std::string& program, const std::string& package) {
  auto found = installed(program);
  if (!found) must_be_here(package);
  return found;
}

std::optional<std::string> said_by_python(const std::string& module, const std::string& package,
                                          const std::string& program,
                                          const std::vector<std::string>& arguments) {
  const auto python = needed("python3", "python3");
  if (!python) return std::nullopt;
  if (run_process({*python, "-c", "import " + module}).status != 0) {
    must_be_here(package);
    return std::nullopt;
  }
  std::vector<std::string> words{*python, "-c", program};
  words.insert(words.end(), arguments.begin(), arguments.end());
  const ProcessResult result = run_process(words);
  if (result.status != 0) throw std::runtime_error(module + ": " + result.errors);
  return result.output;
}

std::optional<std::vector<std::string>> said_by_jsonschema(const std::vector<DocumentOfSchema>& documents) {
  nlohmann::json pairs = nlohmann::json::array();
  for (const DocumentOfSchema& one : documents) {
    pairs.push_back({{"schema", one.schema}, {"document", one.document}});
  }
  const Folder folder;
  const auto said =
      said_by_python("jsonschema", "python3-jsonschema", judge, {folder.write("pairs.json", pairs.dump())});
  if (!said) return std::nullopt;
  return nlohmann::json::parse(*said).get<std::vector<std::string>>();
}

}  // namespace detent::test
