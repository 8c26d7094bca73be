#include "tests/cli/vcd_reader.hpp"

#include <set>
#include <sstream>
#include <stdexcept>

namespace detent::test {
namespace {

class Reader {
 public:
  explicit Reader(const std::string& text) : words_(text) {}

  Dump read() {
    while (!defined_) declaration(word());
    for (std::string next; words_ >> next;) change(next);
    demand(time_ >= 0, "there is no time");
    for (const auto& [name, kind] : dump_.kinds) {
      demand(dump_.values[name].count(0) != 0, name + " has no value at time 0");
    }
    dump_.end = time_;
    return std::move(dump_);
  }

 private:
  static void demand(bool holds, const std::string& complaint) {
    if (!holds) throw std::runtime_error("VCD: " + complaint);
  }

  std::string word() {
    std::string next;
    demand(static_cast<bool>(words_ >> next), "it ends in the middle");
    return next;
  }

  std::vector<std::string> up_to_end() {
    std::vector<std::string> all;
    for (std::string next = word(); next != "$end"; next = word()) all.push_back(next);
    return all;
  }

  void declaration(const std::string& keyword) {
    const std::vector<std::string> parts = up_to_end();
    if (keyword == "$comment" || keyword == "$date" || keyword == "$version") return;
    if (keyword == "$timescale") {
      for (const std::string& part : parts) dump_.timescale += (dump_.timescale.empty() ? "" : " ") + part;
    } else if (keyword == "$scope") {
      demand(parts.size() == 2 && parts[0] == "module", "a scope is not a module with a name");
      scopes_.push_back(parts[1]);
    } else if (keyword == "$upscope") {
      demand(parts.empty() && !scopes_.empty(), "a scope is left that was not entered");
      scopes_.pop_back();
    } else if (keyword == "$var") {
      variable(parts);
    } else {
      demand(keyword == "$enddefinitions" && parts.empty() && scopes_.empty(), "unexpected " + keyword);
      defined_ = true;
    }
  }

  void variable(const std::vector<std::string>& parts) {
    const bool ranged = parts.size() == 5 && parts[4].front() == '[' && parts[4].back() == ']';
    demand((parts.size() == 4 || ranged) && !scopes_.empty(),
           "a variable is not TYPE WIDTH CODE NAME or TYPE WIDTH CODE NAME [HIGH:LOW] in a scope");
    for (const char c : parts[2]) demand(c >= 33 && c <= 126, "a code is not printable");
    std::string name;
    for (const std::string& scope : scopes_) name += scope + ".";
    name += parts[3];
    demand(parts[3].find_first_of(".[]\\") == std::string::npos, "a name is no plain identifier: " + name);
    demand(dump_.kinds.emplace(name, parts[0] + " " + parts[1]).second, name + " is declared twice");
    demand(of_code_.emplace(parts[2], name).second, "code " + parts[2] + " is used twice");
    width_[name] = std::stoul(parts[1]);
  }

  void change(const std::string& next) {
    if (next.front() == '#') {
      const std::int64_t time = std::stoll(next.substr(1));
      demand(time > time_, "time does not go up at " + next);
      time_ = time;
      return;
    }
    demand(time_ >= 0, "a value before any time");
    const bool vector = next.front() == 'b';
    const std::string digits = vector ? next.substr(1) : next.substr(0, 1);
    const auto found = of_code_.find(vector ? word() : next.substr(1));
    demand(found != of_code_.end(), "an unknown code at " + next);
    demand(!digits.empty() && digits.find_first_not_of("01") == std::string::npos, "no number: " + next);
    demand(vector == (width_[found->second] > 1), found->second + " has a value of the other kind");
    demand(digits.size() <= width_[found->second], found->second + " has too many digits");
    demand(dump_.values[found->second].emplace(time_, digits).second,
           found->second + " changes twice at once");
  }

  std::istringstream words_;
  Dump dump_;
  bool defined_ = false;
  std::vector<std::string> scopes_;
  std::map<std::string, std::string> of_code_;
  std::map<std::string, std::size_t> width_;
  std::int64_t time_ = -1;
};

}  // namespace

Dump read_vcd(const std::string& text) {
  return Reader(text).read();
}

}  // namespace detent::test
