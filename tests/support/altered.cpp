#include "tests/support/altered.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "dsl/lower.hpp"
#include "dsl/slip_list.hpp"
#include "dsl/twins.hpp"

namespace detent::test {

dsl::Compiled front(const std::string& text) {
  dsl::Compiled result = dsl::compile_text("test.detent", text);
  if (result.model) return result;
  std::string messages;
  for (const dsl::Diagnostic& one : result.diagnostics) messages += dsl::to_text(one, result.sources);
  throw std::runtime_error(messages + text);
}

std::vector<std::string> names_of(const std::vector<dsl::Alteration>& list) {
  std::vector<std::string> names;
  for (const dsl::Alteration& one : list) names.push_back(one.name);
  return names;
}

const dsl::Alteration& named_alteration(const std::vector<dsl::Alteration>& list, const std::string& name) {
  const auto found =
      std::find_if(list.begin(), list.end(), [&](const auto& one) { return one.name == name; });
  if (found == list.end()) {
    throw std::runtime_error(fmt::format("no '{}' among: {}", name, fmt::join(names_of(list), ", ")));
  }
  return *found;
}

dsl::Model model_of(const dsl::Design& design, const dsl::Sources& sources) {
  dsl::Diagnostics diagnostics;
  dsl::Model model = dsl::lower(design, sources, diagnostics);
  if (dsl::has_errors(diagnostics)) throw std::runtime_error("the altered design has a mistake");
  return model;
}

dsl::Model with_fault(const std::string& text, const std::vector<std::string>& names,
                      const dsl::FaultOptions& options) {
  const dsl::Compiled compiled = front(text);
  const std::vector<dsl::Alteration> list = dsl::list_faults(*compiled.design, options);
  std::vector<dsl::Alteration> chosen;
  for (const std::string& name : names) chosen.push_back(named_alteration(list, name));
  return model_of(dsl::with_faults(*compiled.design, chosen), compiled.sources);
}

dsl::Model with_slip(const std::string& text, const std::string& name) {
  const dsl::Compiled compiled = front(text);
  const std::vector<dsl::Alteration> list = dsl::list_slips(*compiled.design, compiled.sources);
  return model_of(dsl::altered(*compiled.design, named_alteration(list, name)), compiled.sources);
}

}  // namespace detent::test
