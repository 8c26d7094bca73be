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
  std::uint32_t file = 0;                                        ///< which text
  std::uint32_t begin = 0;                                       ///< first byte, from 0 on
  std::uint32_t end = 0;                                         ///< the byte after the last
  friend bool operator==(const Place&, const Place&) = default;  ///< the same stretch of the same text
};

/// Where a person looks for a place: both counted from 1, the column in characters (code points), not bytes.
struct LineColumn {
  std::size_t line = 1;    ///< from 1 on
  std::size_t column = 1;  ///< from 1 on, in code points of UTF-8
};

/// The texts that one design is made of, in the order in which they were added (the main file is number 0).
/// Functions that take a file's number or a place throw std::out_of_range for a file that is not there.
/// Reading is free to any number of threads; views stay good while nothing is added.
class Sources {
 public:
  /// Keeps the text. `name` is what messages call the file, usually its path as the user wrote it.
  std::uint32_t add(std::string name, std::string text);

  /// How many texts there are.
  [[nodiscard]] std::size_t size() const { return files_.size(); }
  /// What the text was called when it was added.
  [[nodiscard]] const std::string& name(std::uint32_t file) const { return files_.at(file).name; }
  /// All of it.
  [[nodiscard]] std::string_view text(std::uint32_t file) const { return files_.at(file).text; }
  /// The text of a place; what lies past the end of the file is left out.
  [[nodiscard]] std::string_view text(const Place& place) const;
  /// Where the place begins.
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
