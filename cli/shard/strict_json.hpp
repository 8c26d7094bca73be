// Reading JSON that nobody vouches for: every value is asked for by kind and range, and what does not fit is
// named by its path.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "cli/json_run.hpp"

namespace detent::cli {

/// Thrown where a document is not what it must be; caught where it was read. "part.singles[3].fault: …"
struct Misfit {
  std::string what;
};

/// A value in a document, and where it stands. Refers to the document.
class Strict {
 public:
  explicit Strict(const Json& json, std::string path = "") : json_(&json), path_(std::move(path)) {}

  /// The value must be an object with this member. Throws Misfit, like all below.
  [[nodiscard]] Strict at(const std::string& member) const;
  [[nodiscard]] std::optional<Strict> maybe(const std::string& member) const;
  /// The value must be an object with no other members than these.
  const Strict& only(std::initializer_list<const char*> members) const;
  /// The value must be an array.
  [[nodiscard]] std::vector<Strict> items() const;

  /// A whole number in [low, high].
  [[nodiscard]] std::int64_t whole(std::int64_t low, std::int64_t high) const;
  /// A whole number of things that count from 0, less than `count`.
  [[nodiscard]] std::size_t index(std::size_t count) const;
  /// A whole number of 0 or more, as counters have.
  [[nodiscard]] std::uint64_t counter() const;
  /// A time in seconds, 0 or more.
  [[nodiscard]] double seconds() const;
  [[nodiscard]] std::string text() const;
  [[nodiscard]] bool truth() const;

  [[nodiscard]] const Json& json() const { return *json_; }
  [[noreturn]] void refuse(const std::string& why) const;

 private:
  void demand(bool good, const std::string& what) const;
  const Json* json_;
  std::string path_;
};

/// Discarded where it is not well formed. `twice`: the first member that its object has already.
[[nodiscard]] Json parse_strictly(std::string_view text, std::string& twice);

}  // namespace detent::cli
