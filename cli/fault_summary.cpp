#include "cli/fault_summary.hpp"

#include <algorithm>
#include <map>

#include "cli/words.hpp"

namespace detent::cli {

std::string fault_words(const FaultStudy& study, const FaultCase& one) {
  std::vector<std::string> names;
  for (const std::size_t fault : one.faults) names.push_back(study.faults[fault].name);
  return list_words(names);
}

FaultSummary summary_of(const dsl::Model& model, const FaultStudy& study,
                        const std::vector<FaultCase>& cases) {
  FaultSummary sum;
  std::map<std::uint32_t, FaultSummary::Fallen> fallen;
  for (const FaultCase& one : cases) {
    const Fate fate = fate_of(model, study, one);
    sum.survived += fate == Fate::survived ? 1 : 0;
    sum.fallen += fate == Fate::fallen ? 1 : 0;
    sum.undecided += fate == Fate::undecided ? 1 : 0;
    sum.ruled_out += fate == Fate::no_run ? 1 : 0;
    for (const solver::Verdict& verdict : one.answer.verdicts) {
      if (verdict.outcome != solver::Outcome::refuted || model.claims[verdict.claim].possible) continue;
      auto& entry =
          fallen.try_emplace(verdict.claim, FaultSummary::Fallen{verdict.claim, 0, 0}).first->second;
      const auto ticks = verdict.run ? static_cast<dsl::Value>(verdict.run->ticks()) : 0;
      entry.shortest = entry.faults == 0 ? ticks : std::min(entry.shortest, ticks);
      ++entry.faults;
    }
  }
  for (const auto& [claim, entry] : fallen) sum.fallen_claims.push_back(entry);
  std::stable_sort(
      sum.fallen_claims.begin(), sum.fallen_claims.end(), [](const auto& one, const auto& other) {
        return one.faults != other.faults ? one.faults > other.faults : one.shortest < other.shortest;
      });
  return sum;
}

}  // namespace detent::cli
