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
  if (format == "sarif") return sarif_text(result);
  if (format == "junit") return junit_text(result, std::time(nullptr));
  return json_text(result);
}

}  // namespace detent::cli
