// A design from its main file and what it includes, depth first: the declarations of an included file stand
// in the tree where its include stood. A file that is included twice is read once.
#include "dsl/load.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <set>

#include "dsl/grammar.hpp"

namespace detent::dsl {
namespace {

constexpr std::size_t most_files = 1000;

/// Two spellings of one path meet in one ("a/../b" is "b"). Links are not followed: the disk is not asked.
std::string normal_path(const std::filesystem::path& path) {
  return path.lexically_normal().generic_string();
}

class Loader {
 public:
  Loader(const FileReader& read, Sources& sources, Diagnostics& diagnostics)
      : read_(read), sources_(sources), diagnostics_(diagnostics) {}

  Tree load_main(const std::string& path);

 private:
  /// A file on the way from the main file to the one that is being read, and where it is included.
  struct Station {
    std::string path;
    Place include;
  };

  void read_file(std::uint32_t file, const Place* included_at, std::vector<Declaration>& into);
  void refuse_other(const Declaration& declaration, const Place& included_at);
  void follow(const IncludeDeclaration& include, const Place& place, const std::string& from,
              std::vector<Declaration>& into);
  bool refuse_cycle(const std::string& path, const Place& place);
  bool refuse_more(const std::string& path, const Place& place);
  void refuse_unread(const FileText& file, const std::string& path, const Place& place);

  const FileReader& read_;
  Sources& sources_;
  Diagnostics& diagnostics_;
  std::vector<Station> chain_;
  std::set<std::string> seen_;  ///< normal paths
  std::size_t bytes_ = 0;       ///< of all files so far
};

void Loader::refuse_unread(const FileText& file, const std::string& path, const Place& place) {
  if (file.too_large) {
    diagnostics_.push_back({Code::file_too_large, place,
                            fmt::format("'{}' is too large; the largest file that is read has {} bytes", path,
                                        largest_file_bytes),
                            "move parts of the design to other files and include them"});
    return;
  }
  const std::string problem = file.problem.empty() ? "there is no such file" : file.problem;
  diagnostics_.push_back({Code::unreadable_file, place, fmt::format("'{}' cannot be read: {}", path, problem),
                          "check the path; a relative path starts at the folder of the file that includes"});
}

/// A file may not include itself, not even by way of others: the notes show the way round.
bool Loader::refuse_cycle(const std::string& path, const Place& place) {
  const auto first = std::find_if(chain_.begin(), chain_.end(),
                                  [&](const Station& station) { return station.path == path; });
  if (first == chain_.end()) return false;
  Diagnostic cycle{Code::include_cycle, place, fmt::format("'{}' includes itself", path),
                   "move what both files need to a third file and include that"};
  for (auto station = std::next(first); station != chain_.end(); ++station) {
    cycle.notes.push_back({station->include, fmt::format("'{}' is included here", station->path)});
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

void Loader::follow(const IncludeDeclaration& include, const Place& place, const std::string& from,
                    std::vector<Declaration>& into) {
  const std::string path = normal_path(std::filesystem::path(from).parent_path() / include.path);
  if (refuse_cycle(path, place) || seen_.contains(path) || refuse_more(path, place)) return;
  seen_.insert(path);
  FileText file = include.path.empty() ? FileText{{}, "its name is empty"} : read_(path);
  bytes_ += file.text ? file.text->size() : 0;
  if (!file.text || file.too_large) return refuse_unread(file, path, place);
  if (bytes_ > largest_file_bytes) {
    diagnostics_.push_back({Code::file_too_large, place,
                            fmt::format("with '{}' the files of this design have more than {} bytes together",
                                        path, largest_file_bytes),
                            "leave out what the design does not need"});
    return;
  }
  chain_.push_back({path, place});
  read_file(sources_.add(path, std::move(*file.text)), &place, into);
  chain_.pop_back();
}

/// Reads one file that is among the sources; what it holds goes to the end of `into`.
void Loader::read_file(std::uint32_t file, const Place* included_at, std::vector<Declaration>& into) {
  const std::string path = chain_.back().path;
  Tree tree = parse(sources_, file, diagnostics_);
  for (Declaration& declaration : tree.declarations) {
    if (const auto* include = std::get_if<IncludeDeclaration>(&declaration.body)) {
      follow(*include, declaration.place, path, into);
    } else if (included_at == nullptr || std::holds_alternative<PartDeclaration>(declaration.body)) {
      into.push_back(std::move(declaration));
    } else {
      refuse_other(declaration, *included_at);
    }
  }
}

void Loader::refuse_other(const Declaration& declaration, const Place& included_at) {
  diagnostics_.push_back({Code::include_holds_more,
                          declaration.place,
                          "an included file may hold only parts and includes",
                          "move this to the main file, or into a part",
                          {{included_at, "the file is included here"}}});
}

Tree Loader::load_main(const std::string& path) {
  FileText file = read_(path);
  const bool readable = file.text && !file.too_large;
  const std::uint32_t number = sources_.add(path, readable ? std::move(*file.text) : std::string{});
  const std::string normal = normal_path(path);
  Tree tree;
  if (!readable) {
    refuse_unread(file, path, {number, 0, 0});
    return tree;
  }
  bytes_ = sources_.text(number).size();
  seen_.insert(normal);
  chain_.push_back({normal, {number, 0, 0}});
  read_file(number, nullptr, tree.declarations);
  return tree;
}

}  // namespace

Tree load(const std::string& path, const FileReader& read, Sources& sources, Diagnostics& diagnostics) {
  return Loader(read, sources, diagnostics).load_main(path);
}

}  // namespace detent::dsl
