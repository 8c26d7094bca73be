// Text to tree: reads one declaration after another by the rules of grammar/declarations.hpp. A declaration
// that cannot be read is reported and left out, and reading starts afresh at the next line that begins with
// the word of a declaration, so that one run finds the mistakes of all of them.
#include "dsl/grammar.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <set>

#include "dsl/grammar/characters.hpp"
#include "dsl/grammar/declarations.hpp"

namespace detent::dsl {
namespace {

using grammar::Cursor;
using grammar::Mistake;
using grammar::Reading;

/// The names in a list of declarations and in the parts among them.
void collect_names(const std::vector<Declaration>& declarations, std::set<std::string, std::less<>>& names) {
  for (const Declaration& declaration : declarations) {
    names.insert(declaration.name.text);
    const auto* part = std::get_if<PartDeclaration>(&declaration.body);
    if (part == nullptr) continue;
    for (const Parameter& parameter : part->parameters) names.insert(parameter.name.text);
    collect_names(part->body, names);
  }
}

class Reader {
 public:
  Reader(std::string_view text, std::uint32_t file, grammar::Strangers strangers)
      : reading_(text, file, std::move(strangers.diagnostics)), strangers_(std::move(strangers.offsets)) {}

  Tree read();
  Diagnostics& diagnostics() { return reading_.reported(); }

 private:
  /// A part whose `end` has not come yet. One with a mistake in its head is read, but left out.
  struct OpenPart {
    Declaration part;
    bool broken = false;
  };

  void read_all();
  void read_one(Cursor& at);
  void open_part(Declaration part, bool broken);
  void close_part(Cursor& at);
  void add(Declaration declaration);
  void recover(const Mistake& mistake, Cursor begin);
  void note_broken(Cursor begin);
  void note_rest();
  void report_missing_ends();
  void report_lone_units();

  Reading reading_;
  std::vector<std::uint32_t> strangers_;  ///< where characters stand that are reported already
  std::vector<OpenPart> open_;
  Cursor at_ = nullptr;
  std::set<std::string, std::less<>> taken_for_names_;  ///< words of the language; reported already
  Tree tree_;
};

void Reader::add(Declaration declaration) {
  auto& list = open_.empty() ? tree_.declarations : std::get<PartDeclaration>(open_.back().part.body).body;
  list.push_back(std::move(declaration));
}

void Reader::open_part(Declaration part, bool broken) {
  if (open_.size() == static_cast<std::size_t>(deepest_nesting)) {
    reading_.report({Code::nested_too_deeply, part.place,
                     fmt::format("parts are nested more than {} deep", deepest_nesting),
                     "end a part before the next begins"});
    throw grammar::Enough{};
  }
  open_.push_back({std::move(part), broken});
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
  if (reading_.word_at(at) == "end") return close_part(at);
  Declaration made;
  const grammar::Context context = grammar::x3::make_context<grammar::reading_tag>(reading_);
  if (!grammar::declaration.parse(at, reading_.end(), context, grammar::x3::unused, made)) {
    throw reading_.no_declaration(at);
  }
  if (std::holds_alternative<PartDeclaration>(made.body)) return open_part(std::move(made), false);
  if (std::holds_alternative<IncludeDeclaration>(made.body) && !open_.empty()) {
    reading_.report({Code::syntax, made.place, "an include stands at the top of a file, not inside a part",
                     "move it in front of the part"});
    return;
  }
  add(std::move(made));
}

/// Goes on at the next declaration. A mistake on a line with a character that is reported already, or between
/// it and the next declaration, is most likely a consequence of it and not reported. Nor is a word of the
/// language that stands where a value could, once it has been reported as a name.
void Reader::recover(const Mistake& mistake, Cursor begin) {
  const Cursor line = reading_.line_begin(begin);
  Cursor start = std::max(reading_.begin() + mistake.diagnostic.place.end, begin);
  if (start == begin && begin != reading_.end()) ++start;
  at_ = reading_.next_declaration(reading_.after_white(start));
  const Place skipped = reading_.place(line, at_);
  const std::string seen(reading_.text_of(mistake.diagnostic.place));
  const bool is_name = mistake.diagnostic.code == Code::reserved_word;
  if (is_name) taken_for_names_.insert(seen);
  if (!is_name && taken_for_names_.contains(seen)) return;
  const auto stranger = std::lower_bound(strangers_.begin(), strangers_.end(), skipped.begin);
  if (stranger == strangers_.end() || *stranger >= skipped.end) reading_.report(mistake.diagnostic);
}

/// Keeps the name that a declaration with a mistake was about to declare, or its word if it has no name.
void Reader::note_broken(Cursor begin) {
  const std::string_view word = reading_.word_at(begin);
  if (word.empty()) return;
  const Cursor next = reading_.after_white(begin + word.size());
  const bool nameless = word == "tick" || word == "design" || word == "power_up";
  const std::string_view name = nameless ? word : reading_.word_at(next);
  if (name.empty() || (!nameless && grammar::is_reserved(name))) return;
  tree_.broken.push_back({std::string(name), reading_.place(name.data(), name.data() + name.size())});
}

void Reader::read_all() {
  while (at_ != reading_.end()) {
    const Cursor begin = at_;
    try {
      reading_.start_afresh();
      read_one(at_);
    } catch (const Mistake& mistake) {
      note_broken(begin);
      recover(mistake, begin);
      if (reading_.word_at(begin) == "part")
        open_part({mistake.diagnostic.place, {}, {}, PartDeclaration{}}, true);
    }
  }
  report_missing_ends();
  report_lone_units();
}

/// What is not read any more still declares names.
void Reader::note_rest() {
  while (at_ != reading_.end()) {
    note_broken(at_);
    at_ = reading_.next_declaration(at_ + 1);
  }
  for (const OpenPart& open : open_) tree_.broken.push_back(open.part.name);
}

Tree Reader::read() {
  at_ = reading_.after_white(reading_.begin());
  try {
    read_all();
  } catch (const grammar::Enough&) {
    note_rest();
  }
  return std::move(tree_);
}

void Reader::report_missing_ends() {
  for (; !open_.empty(); open_.pop_back()) {
    if (open_.back().broken) continue;
    const Declaration& part = open_.back().part;
    std::set<std::string, std::less<>> names{part.name.text};
    collect_names(std::get<PartDeclaration>(part.body).body, names);
    for (const std::string& name : names) tree_.broken.push_back({name, part.place});
    Place end = reading_.last_token();
    end.begin = end.end;
    reading_.report({Code::syntax,
                     end,
                     fmt::format("part '{}' has no 'end'", part.name.text),
                     "write 'end' behind its last declaration",
                     {{part.place, "the part begins here"}}});
  }
}

/// A unit without a number, unless something in this file has the unit's name.
void Reader::report_lone_units() {
  if (reading_.lone_units().empty()) return;
  std::set<std::string, std::less<>> names;
  collect_names(tree_.declarations, names);
  for (const Name& unit : reading_.lone_units()) {
    if (names.contains(unit.text)) continue;
    tree_.broken.push_back(unit);
    reading_.report({Code::syntax, unit.place,
                     fmt::format("expected a number before the unit '{}'", unit.text),
                     fmt::format("write the number as well, as in '8 {}'", unit.text)});
  }
}

void append(Diagnostics& all, Diagnostics more) {
  all.insert(all.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

}  // namespace

Tree broken_tree(const Place& place) {
  return {{}, {{"tick", place}}};
}

Tree parse(const Sources& sources, std::uint32_t file, Diagnostics& diagnostics) {
  const std::string_view text = sources.text(file);
  if (text.size() > largest_file_bytes) {
    diagnostics.push_back({Code::file_too_large,
                           {file, 0, 0},
                           fmt::format("this file has {} bytes; the largest that is read has {}", text.size(),
                                       largest_file_bytes),
                           "move parts of the design to other files and include them"});
    return broken_tree({file, 0, 0});
  }
  grammar::Strangers strangers = grammar::find_strangers(text, file);
  if (strangers.too_many) {
    append(diagnostics, std::move(strangers.diagnostics));
    return broken_tree({file, 0, 0});
  }
  Reader reader(text, file, std::move(strangers));
  Tree tree = reader.read();
  append(diagnostics, std::move(reader.diagnostics()));
  return tree;
}

}  // namespace detent::dsl
