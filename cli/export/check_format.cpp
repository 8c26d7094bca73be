#include "cli/export/check_format.hpp"

#include <algorithm>
#include <ctime>

#include "cli/export/junit.hpp"
#include "cli/export/sarif.hpp"
#include "cli/json.hpp"

namespace detent::cli {

const std::vector<std::string>& check_formats() {
  static const std::vector<std::string> all{"json", "sarif", "junit"};
  return all;
}

bool is_check_format(const std::string& format) {
  return std::find(check_formats().begin(), check_formats().end(), format) != check_formats().end();
}

std::string formatted_check(const CheckResult& result, const std::string& format) {
  return format == "json" ? json_text(result) : formatted_checks({&result}, format);
}

std::string formatted_checks(const std::vector<const CheckResult*>& results, const std::string& format) {
  return format == "sarif" ? sarif_text(results) : junit_text(results, std::time(nullptr));
}

}  // namespace detent::cli
