// Text to tree: reads one declaration after another by the rules of grammar/declarations.hpp. A declaration
// that cannot be read is reported and left out, and reading starts afresh at the next line that begins with
// the word of a declaration, so that one run finds the mistakes of all of them.
#include "dsl/grammar.hpp"

#include <fmt/format.h>

#include <iterator>
#include <set>

#include "dsl/grammar/characters.hpp"
#include "dsl/grammar/declarations.hpp"

namespace detent::dsl {
namespace {

using grammar::Cursor;
using grammar::Mistake;
using grammar::Reading;

constexpr std::size_t most_diagnostics = 50;

class Reader {
 public:
  Reader(std::string_view text, std::uint32_t file, std::vector<std::uint32_t> strangers)
      : reading_(text, file), strangers_(std::move(strangers)) {}

  Tree read();
  Diagnostics diagnostics() { return std::move(reading_.reported()); }

 private:
  /// A part whose `end` has not come yet. One with a mistake in its head is read, but left out.
  struct OpenPart {
    Declaration part;
    bool broken = false;
  };

  void read_one(Cursor& at);
  void open_part(Declaration part, bool broken, Cursor at);
  void close_part(Cursor& at);
  void add(Declaration declaration);
  void recover(const Mistake& mistake, Cursor begin, Cursor& at);
  void report_missing_ends();
  void report_lone_units();
  bool too_many();

  Reading reading_;
  std::vector<std::uint32_t> strangers_;  ///< where characters stand that are reported already
  std::vector<OpenPart> open_;
  std::set<std::string, std::less<>> names_;
  Tree tree_;
};

std::vector<Declaration>& body_of(Declaration& part) {
  return std::get<PartDeclaration>(part.body).body;
}

void Reader::add(Declaration declaration) {
  auto& list = open_.empty() ? tree_.declarations : body_of(open_.back().part);
  list.push_back(std::move(declaration));
}

void Reader::open_part(Declaration part, bool broken, Cursor at) {
  open_.push_back({std::move(part), broken});
  if (open_.size() <= static_cast<std::size_t>(deepest_nesting)) return;
  throw Mistake{{Code::nested_too_deeply, reading_.place(at, at + 4),
                 fmt::format("parts are nested more than {} deep", deepest_nesting),
                 "end a part before the next begins"}};
}

void Reader::close_part(Cursor& at) {
  const Cursor begin = at;
  reading_.take_word(at, "end");
  if (open_.empty()) {
    reading_.report({Code::syntax, reading_.place_from(begin), "no part is open that this 'end' could end",
                     "take it out, or begin the part with 'part NAME(…)'"});
    return;
  }
  OpenPart ended = std::move(open_.back());
  open_.pop_back();
  ended.part.place.end = reading_.last_token().end;
  if (!ended.broken) add(std::move(ended.part));
}

void Reader::read_one(Cursor& at) {
  const Cursor begin = at;
  Declaration made;
  const grammar::Context context = grammar::x3::make_context<grammar::reading_tag>(reading_);
  if (!grammar::declaration.parse(at, reading_.end(), context, grammar::x3::unused, made)) {
    throw reading_.no_declaration(at);
  }
  if (std::holds_alternative<PartDeclaration>(made.body)) return open_part(std::move(made), false, begin);
  if (std::holds_alternative<IncludeDeclaration>(made.body) && !open_.empty()) {
    reading_.report({Code::syntax, made.place, "an include stands at the top of a file, not inside a part",
                     "move it in front of the part"});
    return;
  }
  add(std::move(made));
}

/// A mistake in a declaration with a character that is reported already is most likely a consequence of it.
void Reader::recover(const Mistake& mistake, Cursor begin, Cursor& at) {
  const std::uint32_t from = reading_.place(begin, begin).begin;
  Cursor start = reading_.begin() + std::max(mistake.diagnostic.place.end, from);
  if (start == begin && begin != reading_.end()) ++start;
  at = reading_.next_declaration(reading_.after_white(start));
  const std::uint32_t to = reading_.place(at, at).begin;
  const auto stranger = std::lower_bound(strangers_.begin(), strangers_.end(), from);
  if (stranger == strangers_.end() || *stranger >= to) reading_.report(mistake.diagnostic);
}

bool Reader::too_many() {
  return reading_.reported().size() >= most_diagnostics;
}

Tree Reader::read() {
  Cursor at = reading_.after_white(reading_.begin());
  while (at != reading_.end() && !too_many()) {
    const Cursor begin = at;
    const std::string_view word = reading_.word_at(at);
    try {
      reading_.start_afresh();
      if (word == "end") {
        close_part(at);
      } else {
        read_one(at);
      }
    } catch (const Mistake& mistake) {
      recover(mistake, begin, at);
      if (mistake.diagnostic.code == Code::nested_too_deeply && word == "part") return {};
      if (word == "part") open_.push_back({{{}, {}, {}, PartDeclaration{}}, true});
    }
  }
  report_missing_ends();
  report_lone_units();
  return std::move(tree_);
}

void Reader::report_missing_ends() {
  if (too_many()) return;
  for (; !open_.empty(); open_.pop_back()) {
    if (open_.back().broken) continue;
    const Declaration& part = open_.back().part;
    const Cursor end = reading_.end();
    reading_.report({Code::syntax,
                     reading_.place(end, end),
                     fmt::format("part '{}' has no 'end'", part.name.text),
                     "write 'end' behind its last declaration",
                     {{part.place, "the part begins here"}}});
  }
}

void Reader::report_lone_units() {}

}  // namespace

Tree parse(const Sources& sources, std::uint32_t file, Diagnostics& diagnostics) {
  const std::string_view text = sources.text(file);
  if (text.size() > largest_file_bytes) {
    diagnostics.push_back({Code::file_too_large,
                           {file, 0, 0},
                           fmt::format("this file has {} bytes; the largest that is read has {}", text.size(),
                                       largest_file_bytes),
                           "move parts of the design to other files and include them"});
    return {};
  }
  grammar::Strangers strangers = grammar::find_strangers(text, file);
  diagnostics.insert(diagnostics.end(), strangers.diagnostics.begin(), strangers.diagnostics.end());
  if (strangers.too_many) return {};
  Reader reader(text, file, std::move(strangers.offsets));
  Tree tree = reader.read();
  Diagnostics found = reader.diagnostics();
  diagnostics.insert(diagnostics.end(), std::make_move_iterator(found.begin()),
                     std::make_move_iterator(found.end()));
  return tree;
}

}  // namespace detent::dsl
