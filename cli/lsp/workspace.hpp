// The texts that are open, and the designs that they are.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "cli/lsp/analysis.hpp"
#include "cli/lsp/document.hpp"
#include "cli/lsp/prover.hpp"

namespace detent::cli::lsp {

/// An open text as the main file of a design. Whatever is not known of it now is made when it is asked for.
struct OpenDesign {
  Document document;
  std::shared_ptr<const Analysis> design = {};  ///< null: a text that it is made of has changed since
  std::optional<solver::Report> report = {};    ///< verdicts on this very design
  Ticket ticket = 0;                            ///< a proof goes on about this very design
};

class Workspace {
 public:
  /// `disk` reads what is not open.
  explicit Workspace(dsl::FileReader disk) : disk_(std::move(disk)) {}

  void open(Document document, Encoding encoding);
  void close(const std::string& path);

  /// Null if no text with this path is open.
  [[nodiscard]] OpenDesign* find(const std::string& path);
  /// In order of path.
  [[nodiscard]] std::map<std::string, OpenDesign>& all() { return open_; }

  /// The design as its texts stand now.
  const Analysis& analysed(OpenDesign& one, Encoding encoding);
  /// The designs that this text is a file of, each analysed; one that it is the main file of comes first, but
  /// parts that only wait to be included come last.
  std::vector<OpenDesign*> designs_with(const std::string& path, Encoding encoding);

  /// Whether a text that the design is made of is not what the editor holds.
  [[nodiscard]] bool any_lost(const Analysis& design) const;

  /// The designs that were made of another text under this path than what stands there now.
  [[nodiscard]] std::vector<OpenDesign*> outdated_by(const std::string& path);
  /// The same for every path: what was read may have changed on the disk, and nobody is bound to say so.
  [[nodiscard]] std::vector<OpenDesign*> outdated();

 private:
  [[nodiscard]] dsl::FileText read(const std::string& path) const;

  dsl::FileReader disk_;
  std::map<std::string, OpenDesign> open_;  ///< by path
};

}  // namespace detent::cli::lsp
