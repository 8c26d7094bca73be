// Source text and places in it. Every later stage points back into it by Place.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace detent::dsl {

/// A stretch of one source file, in bytes: [begin, end). `file` is the number that Sources::add gave.
struct Place {
  std::uint32_t file = 0;
  std::uint32_t begin = 0;
  std::uint32_t end = 0;
  friend bool operator==(const Place&, const Place&) = default;
};

/// Where a person looks for a place: both counted from 1, the column in characters (code points), not bytes.
struct LineColumn {
  std::size_t line = 1;
  std::size_t column = 1;
};

/// The texts that one design is made of, in the order in which they were added (the main file is number 0).
class Sources {
 public:
  /// Keeps the text. `name` is what messages call the file, usually its path as the user wrote it.
  std::uint32_t add(std::string name, std::string text);

  [[nodiscard]] std::size_t size() const { return files_.size(); }
  [[nodiscard]] const std::string& name(std::uint32_t file) const { return files_.at(file).name; }
  [[nodiscard]] std::string_view text(std::uint32_t file) const { return files_.at(file).text; }
  /// The text of a place; what lies past the end of the file is left out.
  [[nodiscard]] std::string_view text(const Place& place) const;
  [[nodiscard]] LineColumn line_column(const Place& place) const;
  /// The whole line (without its end) in which the place begins.
  [[nodiscard]] std::string_view line_text(const Place& place) const;

 private:
  struct File {
    std::string name;
    std::string text;
    std::vector<std::uint32_t> line_starts;
  };
  std::vector<File> files_;
};

}  // namespace detent::dsl
