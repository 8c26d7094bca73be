// A field is read in stretches without special characters, so that most bytes are looked at once and copied
// once.
#include "cli/csv_reader.hpp"

#include <fmt/format.h>

#include <cstring>
#include <utility>

namespace detent::cli {
namespace {

constexpr std::size_t buffer_bytes = 256U * 1024U;

}  // namespace

CsvReader::CsvReader(Source source) : source_(std::move(source)), buffer_(buffer_bytes) {}

/// Makes sure that a byte is there; what was not read yet is kept.
bool CsvReader::fill() {
  if (at_ < filled_) return true;
  if (ended_) return false;
  const std::ptrdiff_t count = source_(buffer_.data(), buffer_.size());
  failed_ = count < 0;
  ended_ = count <= 0;
  at_ = 0;
  filled_ = count > 0 ? static_cast<std::size_t>(count) : 0;
  return filled_ > 0;
}

int CsvReader::peek() {
  return fill() ? static_cast<unsigned char>(buffer_[at_]) : -1;
}

/// Bytes of the first row, as far as one block reaches, decide both. A source may hand out little at a time.
void CsvReader::pass_mark() {
  while (filled_ < buffer_.size() && !ended_ && std::memchr(buffer_.data(), '\n', filled_) == nullptr) {
    const std::ptrdiff_t count = source_(buffer_.data() + filled_, buffer_.size() - filled_);
    failed_ = count < 0;
    ended_ = count <= 0;
    if (count > 0) filled_ += static_cast<std::size_t>(count);
  }
  if (std::string_view(buffer_.data(), filled_).starts_with("\xEF\xBB\xBF")) at_ = 3;
}

void CsvReader::choose_separator() {
  bool quoted = false;
  for (std::size_t i = at_; i < filled_ && (quoted || buffer_[i] != '\n'); ++i) {
    if (buffer_[i] == '"') quoted = !quoted;
    if (quoted || (buffer_[i] != ',' && buffer_[i] != ';' && buffer_[i] != '\t')) continue;
    separator_ = buffer_[i];
    return;
  }
}

CsvReader::End CsvReader::trouble(std::string what, std::string mend) {
  problem_ = CsvProblem{row_, ends_.size() + 1, std::move(what), std::move(mend)};
  return End::trouble;
}

bool CsvReader::grow(std::size_t bytes) {
  const std::size_t start = ends_.empty() ? 0 : ends_.back();
  if (text_.size() - start + bytes <= longest_field) {
    text_.append(buffer_.data() + at_, bytes);
    at_ += bytes;
    return true;
  }
  trouble(fmt::format("the field is longer than {} bytes", longest_field),
          "look for a quote that is never closed, or for a file that is no table");
  return false;
}

/// What ends an unquoted field, or follows a quoted one.
CsvReader::End CsvReader::ending(char letter) {
  ++at_;
  if (letter == '\r' && peek() == '\n') ++at_;
  return letter == separator_ ? End::field : End::row;
}

CsvReader::End CsvReader::plain_field() {
  while (fill()) {
    std::size_t end = at_;
    const auto is_plain = [this](char c) {
      return c != separator_ && c != '\n' && c != '\r' && c != '"' && c != '\0';
    };
    while (end < filled_ && is_plain(buffer_[end])) ++end;
    if (!grow(end - at_)) return End::trouble;
    if (at_ == filled_) continue;
    const char letter = buffer_[at_];
    if (letter == '\0') return trouble("there is a NUL byte", "save the table as text (CSV, UTF-8)");
    if (letter == '"') {
      return trouble("there is a quote inside a field that does not begin with one",
                     "put the whole field in quotes and double those inside");
    }
    return ending(letter);
  }
  return End::file;
}

CsvReader::End CsvReader::behind_quote() {
  const int letter = peek();
  if (letter < 0) return End::file;
  const char c = static_cast<char>(letter);
  if (c == separator_ || c == '\n' || c == '\r') return ending(c);
  return trouble("something stands behind the closing quote", "double the quotes inside a field");
}

CsvReader::End CsvReader::quoted_field() {
  ++at_;
  while (fill()) {
    std::size_t end = at_;
    while (end < filled_ && buffer_[end] != '"' && buffer_[end] != '\0') ++end;
    if (!grow(end - at_)) return End::trouble;
    if (at_ == filled_) continue;
    if (buffer_[at_] == '\0') return trouble("there is a NUL byte", "save the table as text (CSV, UTF-8)");
    ++at_;
    if (peek() != '"') return behind_quote();
    if (!grow(1)) return End::trouble;  // a doubled quote is one
  }
  return trouble("a quote is opened and never closed", "close it");
}

bool CsvReader::next() {
  if (problem_) return false;
  if (!begun_) {
    begun_ = true;
    pass_mark();
    choose_separator();
  }
  while (fill()) {
    ++row_;
    text_.clear();
    ends_.clear();
    End end = End::field;
    while (end == End::field) {
      if (ends_.size() == most_fields) {
        trouble(fmt::format("the row has more than {} fields", most_fields), "leave out columns");
        return false;
      }
      end = peek() == '"' ? quoted_field() : plain_field();
      if (end == End::trouble) return false;
      ends_.push_back(text_.size());
    }
    if (!failed_ && (ends_.size() > 1 || !text_.empty())) return true;
    if (failed_) break;
  }
  if (failed_)
    problem_ = CsvProblem{row_, 0, "the rest of the file can't be read", "look at the disk or the pipe"};
  return false;
}

std::string_view CsvReader::field(std::size_t index) const {
  const std::size_t begin = index == 0 ? 0 : ends_[index - 1];
  return std::string_view(text_).substr(begin, ends_[index] - begin);
}

}  // namespace detent::cli
