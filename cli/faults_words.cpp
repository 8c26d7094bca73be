#include "cli/faults_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/fault_summary.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using solver::Outcome;
using solver::Verdict;

/// Claims are asked in their order, and so are the verdicts.
const Verdict* find(const FaultCase& one, std::uint32_t claim) {
  const auto found =
      std::lower_bound(one.answer.verdicts.begin(), one.answer.verdicts.end(), claim,
                       [](const Verdict& verdict, std::uint32_t wanted) { return verdict.claim < wanted; });
  return found == one.answer.verdicts.end() || found->claim != claim ? nullptr : &*found;
}

/// Safety claims that are proved as the design stands: what a fault can take away.
std::size_t to_lose(const Model& model, const FaultStudy& study) {
  return static_cast<std::size_t>(std::count_if(
      study.without.verdicts.begin(), study.without.verdicts.end(), [&](const Verdict& verdict) {
        return verdict.outcome == Outcome::proved && !model.claims[verdict.claim].possible;
      }));
}

/// A limit came before it was known which claims hold without a fault.
bool is_cut_short(const Model& model, const FaultStudy& study) {
  if (!study.without.looked_at) return true;
  return to_lose(model, study) == 0 && std::any_of(study.without.verdicts.begin(),
                                                   study.without.verdicts.end(), [&](const Verdict& verdict) {
                                                     return verdict.outcome == Outcome::undecided &&
                                                            !model.claims[verdict.claim].possible;
                                                   });
}

/// There were no faults, or none that can be.
std::string nothing_shared(const std::string& what, const std::vector<FaultCase>& cases) {
  if (!cases.empty()) return fmt::format("The assumptions rule out every {} that was to be looked at.", what);
  return fmt::format("There is no {} to look at{}.", what,
                     what == "pair"
                         ? ": fewer than two faults of different elements are known to be survived one by one"
                         : "");
}

Span share_words(const Model& model, const FaultStudy& study, const std::string& what,
                 const std::vector<FaultCase>& cases) {
  const FaultSummary sum = summary_of(model, study, cases);
  const std::size_t possible = cases.size() - sum.ruled_out;
  if (possible == 0) return {nothing_shared(what, cases), Style::unsure};
  std::string text = fmt::format("The design survives {} of {}", sum.survived, count_words(possible, what));
  if (sum.undecided == 0) text += fmt::format(" ({} %)", 100 * sum.survived / possible);
  text += to_lose(model, study) == safety_claims(model, study).size()
              ? ", with every safety claim still proved"
              : ", with every safety claim still proved that is proved without it";
  if (sum.fallen > 0) text += fmt::format("; with {} a claim falls", sum.fallen);
  if (sum.undecided > 0) text += fmt::format("; {} undecided", sum.undecided);
  if (sum.ruled_out > 0) text += fmt::format("; {} more ruled out by the assumptions", sum.ruled_out);
  text += ".";
  const bool good = sum.fallen == 0 && sum.undecided == 0;
  return {std::move(text), good ? Style::good : (sum.fallen > 0 ? Style::bad : Style::unsure)};
}

std::string first_to_fall(const Model& model, const FaultStudy& study) {
  const FaultSummary sum = summary_of(model, study, study.singles);
  if (sum.fallen_claims.empty()) return "";
  const auto& most = sum.fallen_claims.front();
  const auto first =
      std::min_element(sum.fallen_claims.begin(), sum.fallen_claims.end(),
                       [](const auto& one, const auto& other) { return one.shortest < other.shortest; });
  return fmt::format("{}{} falls with the most faults ({}); {} falls first (at {}).",
                     sum.undecided > 0 ? "As far as was looked: " : "", model.claims[most.claim].name,
                     most.faults, model.claims[first->claim].name,
                     seconds_words(std::max<dsl::Value>(first->shortest - 1, 0), model.tick_us));
}

}  // namespace

std::vector<std::uint32_t> safety_claims(const Model& model, const FaultStudy& study) {
  std::vector<std::uint32_t> claims;
  for (const std::uint32_t claim : study.claims) {
    if (!model.claims[claim].possible) claims.push_back(claim);
  }
  return claims;
}

std::vector<Span> faults_reach_words(const FaultStudy& study, const std::string& allowed) {
  return {
      {fmt::format("Looked at: {}, each by itself, in every run of any length{}.",
                   count_words(study.singles.size(), "fault"), allowed),
       Style::faint},
      {"A fault changes what the design reads or does, never what a claim says of the hands: of an input, "
       "and of a signal or timer made of inputs alone, a claim means how the hands really stand. Of all else "
       "(a latch, a counter) it sees what the faulty design does.",
       Style::faint}};
}

std::vector<Span> not_looked_at_words(const Model& model, const FaultStudy& study) {
  std::vector<Span> said;
  for (const Verdict& verdict : study.without.verdicts) {
    if (verdict.outcome != Outcome::refuted && verdict.outcome != Outcome::undecided) continue;
    said.push_back({fmt::format("{} is {} without any fault, and is not looked at here.",
                                model.claims[verdict.claim].name,
                                verdict.outcome == Outcome::refuted ? "refuted" : "undecided"),
                    Style::bad});
  }
  if (is_cut_short(model, study)) {
    said.push_back(
        {"A limit came before any safety claim was proved without a fault, so no fault was looked at.",
         Style::unsure});
  } else if (std::all_of(model.claims.begin(), model.claims.end(),
                         [](const auto& one) { return one.possible; })) {
    said.push_back(
        {"The design claims nothing that must never happen, so there is nothing that a fault could break.",
         Style::bad});
  } else if (safety_claims(model, study).empty()) {
    said.push_back(
        {"No safety claim holds without a fault, so there is nothing that a fault could break.", Style::bad});
  }
  return said;
}

Span fault_cell_words(const Model& model, const FaultCase& one, std::uint32_t claim) {
  if (one.answer.no_run_of) return {"no run", Style::faint};
  const Verdict* verdict = find(one, claim);
  if (verdict == nullptr || verdict->outcome == Outcome::undecided) return {"?", Style::unsure};
  if (verdict->outcome != Outcome::refuted) return {"", Style::faint};
  if (!verdict->run) return {"falls", Style::bad};
  return {seconds_words(static_cast<dsl::Value>(verdict->run->ticks()) - 1, model.tick_us), Style::bad};
}

std::vector<Span> nuisance_words(const Model& model, const FaultStudy& study) {
  std::vector<Span> said;
  for (const std::uint32_t claim : study.claims) {
    if (!model.claims[claim].possible) continue;
    std::vector<std::string> names;
    for (const FaultCase& one : study.singles) {
      const Verdict* verdict = find(one, claim);
      if (verdict != nullptr && verdict->outcome == Outcome::refuted)
        names.push_back(fault_words(study, one));
    }
    if (names.empty()) continue;
    said.push_back(
        {fmt::format("{}, which should be possible, is prevented by {}. Whether that is a nuisance or leaves "
                     "somebody in danger, the model does not know.",
                     model.claims[claim].name, list_words(names))});
  }
  return said;
}

std::vector<Span> faults_summary_words(const Model& model, const FaultStudy& study) {
  if (is_cut_short(model, study)) {
    return {
        {"Nothing is known: stopped, or out of time or memory, before it was decided what holds without a "
         "fault. Allow "
         "more (--timeout, --total-timeout, --memory).",
         Style::unsure}};
  }
  if (to_lose(model, study) == 0) {
    return {
        {"No safety claim is proved as the design stands, so there is nothing that a fault could take "
         "away, and nothing to survive. Write what must never happen as a claim, and mend the design "
         "until it is proved.",
         Style::bad}};
  }
  std::vector<Span> said{share_words(model, study, "single fault", study.singles)};
  if (study.with_pairs) said.push_back(share_words(model, study, "pair", study.pairs));
  if (std::string first = first_to_fall(model, study); !first.empty()) said.push_back({std::move(first)});
  said.push_back(
      {"This is an aid to, and no replacement for, an assessment under the standards of machine safety "
       "(ISO 13849-1, IEC 62061): it knows only the faults listed here, in the model, and neither how "
       "likely they are nor whether they are noticed."});
  return said;
}

}  // namespace detent::cli
