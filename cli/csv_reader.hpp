// Rows of comma-separated values as RFC 4180 has them, one after another, in little memory however long the
// file is.
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace detent::cli {

inline constexpr std::size_t longest_field = 64U * 1024U;
inline constexpr std::size_t most_fields = 4096;

struct CsvProblem {
  std::size_t row = 0;     ///< 1 is the header
  std::size_t column = 0;  ///< 1 is the first; 0 where it is about the whole row
  std::string what;
  std::string mend;
};

/// Beside RFC 4180: lines may end in LF alone, a byte order mark is passed over, empty lines are, and the
/// first of comma, semicolon and tab outside quotes in the first row is what parts the fields.
class CsvReader {
 public:
  /// Like read(2): how many bytes were put there, 0 at the end, below 0 where nothing can be read any more.
  using Source = std::function<std::ptrdiff_t(char* to, std::size_t most)>;
  explicit CsvReader(Source source);

  /// Goes to the next row. False at the end, and where there is a problem.
  bool next();

  [[nodiscard]] std::size_t row() const { return row_; }
  [[nodiscard]] std::size_t fields() const { return ends_.size(); }
  [[nodiscard]] std::string_view field(std::size_t index) const;
  [[nodiscard]] char separator() const { return separator_; }
  [[nodiscard]] const std::optional<CsvProblem>& problem() const { return problem_; }

 private:
  enum class End { field, row, file, trouble };

  bool fill();
  int peek();
  void pass_mark();
  void choose_separator();
  End plain_field();
  End quoted_field();
  End behind_quote();
  End ending(char letter);
  End trouble(std::string what, std::string mend);
  bool grow(std::size_t bytes);

  Source source_;
  std::vector<char> buffer_;
  std::size_t at_ = 0, filled_ = 0;
  bool ended_ = false, failed_ = false, begun_ = false;
  char separator_ = ',';
  std::size_t row_ = 0;
  std::string text_;               ///< the fields of the row, without their quotes, one behind the other
  std::vector<std::size_t> ends_;  ///< where each ends in text_
  std::optional<CsvProblem> problem_;
};

}  // namespace detent::cli
