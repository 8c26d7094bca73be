#include "cli/csv_writer.hpp"

namespace detent::cli {
namespace {

std::string csv_field(const std::string& text) {
  if (text.find_first_of(",;\t\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char letter : text) {
    if (letter == '"') quoted += '"';
    quoted += letter;
  }
  return quoted + '"';
}

}  // namespace

std::string csv_row(const std::vector<std::string>& fields) {
  std::string row;
  for (std::size_t index = 0; index < fields.size(); ++index) {
    if (index > 0) row += ',';
    row += csv_field(fields[index]);
  }
  return row + "\r\n";
}

}  // namespace detent::cli
