// A design from its main file and what it includes, depth first: the declarations of an included file stand
// in the tree where its include stood. A file that is included twice is read once.
#include "dsl/load.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <set>
#include <utility>

#include "dsl/grammar.hpp"

namespace detent::dsl {
namespace {

constexpr std::size_t most_files = 1000;

/// Two spellings of one path meet in one ("a/../b" is "b"). Links are not followed: the disk is not asked.
std::string normal_path(const std::filesystem::path& path) {
  return path.lexically_normal().generic_string();
}

/// The limit of the reader's own is not relied upon.
FileText within_limit(FileText file) {
  if (file.text && file.text->size() > largest_file_bytes) file.too_large = true;
  if (file.too_large) file.text.reset();
  return file;
}

class Loader {
 public:
  Loader(const FileReader& read, Sources& sources, Diagnostics& diagnostics)
      : read_(read), sources_(sources), diagnostics_(diagnostics) {}

  Tree load_main(const std::string& path);

 private:
  /// A file that is being gone through: its declarations, and where it was included.
  struct OpenFile {
    std::string path;
    Place included_at;
    std::vector<Declaration> declarations;
    std::size_t next = 0;
    bool refused = false;  ///< that it holds more than parts is said once
  };

  void open(std::uint32_t number, std::string path, const Place& included_at);
  void take(Declaration declaration);
  void follow(const IncludeDeclaration& include, const Place& place);
  bool refuse_cycle(const std::string& path, const Place& place);
  bool refuse_more(const std::string& path, const Place& place);
  bool refuse_size(const std::string& path, const Place& place);
  void refuse_unread(const FileText& file, const std::string& path, const Place& place);

  const FileReader& read_;
  Sources& sources_;
  Diagnostics& diagnostics_;
  std::vector<OpenFile> open_;  ///< from the main file to the one whose turn it is
  std::set<std::string> seen_;  ///< normal paths
  std::size_t bytes_ = 0;       ///< of all files so far
  Tree tree_;
};

void Loader::refuse_unread(const FileText& file, const std::string& path, const Place& place) {
  if (file.too_large) {
    diagnostics_.push_back({Code::file_too_large, place,
                            fmt::format("'{}' is too large; the largest file that is read has {} bytes", path,
                                        largest_file_bytes),
                            "move parts of the design to other files and include them"});
    return;
  }
  const std::string problem = file.problem.empty() ? "does not exist" : file.problem;
  diagnostics_.push_back({Code::unreadable_file, place, fmt::format("'{}' {}", path, problem),
                          "check the path; a relative path starts at the folder of the file that includes"});
}

/// A file may not include itself, not even by way of others: the notes show the way round.
bool Loader::refuse_cycle(const std::string& path, const Place& place) {
  const auto first =
      std::find_if(open_.begin(), open_.end(), [&](const OpenFile& file) { return file.path == path; });
  if (first == open_.end()) return false;
  Diagnostic cycle{Code::include_cycle, place, fmt::format("'{}' includes itself", path),
                   "move what both files need to a third file and include that"};
  for (auto file = std::next(first); file != open_.end(); ++file) {
    cycle.notes.push_back({file->included_at, fmt::format("'{}' is included here", file->path)});
  }
  diagnostics_.push_back(std::move(cycle));
  return true;
}

bool Loader::refuse_more(const std::string& path, const Place& place) {
  if (seen_.size() < most_files) return false;
  diagnostics_.push_back({Code::too_large, place,
                          fmt::format("'{}' is one file too many; a design has at most {}", path, most_files),
                          "put several parts into one file"});
  return true;
}

bool Loader::refuse_size(const std::string& path, const Place& place) {
  if (bytes_ <= largest_file_bytes) return false;
  diagnostics_.push_back({Code::file_too_large, place,
                          fmt::format("with '{}' the files of this design have more than {} bytes together",
                                      path, largest_file_bytes),
                          "leave out what the design does not need"});
  return true;
}

void Loader::follow(const IncludeDeclaration& include, const Place& place) {
  const std::filesystem::path folder = std::filesystem::path(open_.back().path).parent_path();
  const std::string path = normal_path(folder / include.path);
  if (refuse_cycle(path, place) || seen_.contains(path) || refuse_more(path, place)) return;
  seen_.insert(path);
  FileText file = include.path.empty() ? FileText{{}, "is no name of a file"} : within_limit(read_(path));
  if (!file.text) return refuse_unread(file, include.path, place);
  bytes_ += file.text->size();
  if (!refuse_size(path, place)) open(sources_.add(path, std::move(*file.text)), path, place);
}

void Loader::open(std::uint32_t number, std::string path, const Place& included_at) {
  Tree tree = parse(sources_, number, diagnostics_);
  tree_.broken.insert(tree_.broken.end(), tree.broken.begin(), tree.broken.end());
  open_.push_back({std::move(path), included_at, std::move(tree.declarations)});
}

void Loader::take(Declaration declaration) {
  const bool in_main_file = open_.size() == 1;
  if (const auto* include = std::get_if<IncludeDeclaration>(&declaration.body)) {
    follow(*include, declaration.place);
  } else if (in_main_file || std::holds_alternative<PartDeclaration>(declaration.body)) {
    tree_.declarations.push_back(std::move(declaration));
  } else if (!std::exchange(open_.back().refused, true)) {
    diagnostics_.push_back({Code::include_holds_more,
                            declaration.place,
                            "an included file may hold only parts and includes",
                            "move this to the main file, or into a part",
                            {{open_.back().included_at, "the file is included here"}}});
  }
}

Tree Loader::load_main(const std::string& path) {
  FileText file = within_limit(read_(path));
  const bool readable = file.text.has_value();
  const std::uint32_t number = sources_.add(path, std::move(file.text).value_or(""));
  if (!readable) {
    refuse_unread(file, path, {number, 0, 0});
    return broken_tree({number, 0, 0});
  }
  bytes_ = sources_.text(number).size();
  seen_.insert(normal_path(path));
  open(number, normal_path(path), {number, 0, 0});
  while (!open_.empty()) {
    OpenFile& current = open_.back();
    if (current.next == current.declarations.size()) {
      open_.pop_back();
    } else {
      take(std::move(current.declarations[current.next++]));
    }
  }
  return std::move(tree_);
}

}  // namespace

Tree load(const std::string& path, const FileReader& read, Sources& sources, Diagnostics& diagnostics) {
  return Loader(read, sources, diagnostics).load_main(path);
}

}  // namespace detent::dsl
