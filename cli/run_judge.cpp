#include "cli/run_judge.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/breakage.hpp"
#include "cli/json_parts.hpp"
#include "cli/relevance.hpp"
#include "cli/timing.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Claim;
using dsl::Model;
using dsl::Sources;

constexpr const char* indent = "    ";
/// Beyond this a claim's place is told, and its story is not.
constexpr std::size_t largest_chronicle = 512U * 1024U * 1024U;

bool counts(const Claim& claim, Value tick) {
  return !claim.possible || !claim.within || tick <= *claim.within;
}

std::string moment_words(const Model& model, Value tick) {
  return fmt::format("{} (tick {})", seconds_words(tick, model.tick_us), tick);
}

void add_broken(Page& page, const Model& model, const Sources& sources, const ClaimOnRun& found,
                const Terminal& terminal) {
  const Claim& claim = model.claims[found.claim];
  page.push_back({{"BROKEN at " + moment_words(model, *found.tick), Style::bad},
                  {"  "},
                  {claim.name, Style::strong},
                  {"  "},
                  {line_words(sources, claim.place), Style::faint}});
  if (!claim.doc.empty()) add_paragraph(page, indent, fmt::format("\"{}\"", claim.doc), terminal);
  add_paragraph(page, indent, claim.text, terminal);
  page.push_back({});
  add_paragraph(page, indent, found.words, terminal);
  if (!found.diagram.empty()) page.push_back({});
  add_page(page, found.diagram);
  page.push_back({});
}

void add_list(Page& page, const std::string& what, const std::vector<std::string>& names, Style style,
              const Terminal& terminal) {
  if (!names.empty()) add_paragraph(page, what, list_words(names), terminal, style);
}

}  // namespace

ClaimWatch::ClaimWatch(const Model& model, const std::vector<std::uint32_t>& claims) : model_(&model) {
  for (const std::uint32_t claim : claims) claims_.push_back({.claim = claim});
}

std::vector<std::size_t> ClaimWatch::look(const std::vector<Value>& values, Value tick) {
  std::vector<std::size_t> fresh;
  for (std::size_t index = 0; index < claims_.size(); ++index) {
    const Claim& claim = model_->claims[claims_[index].claim];
    if (claims_[index].tick || values[claim.watch] == 0 || !counts(claim, tick)) continue;
    claims_[index].tick = tick;
    fresh.push_back(index);
  }
  return fresh;
}

std::optional<std::size_t> unkept_in(const Model& model, const std::vector<Value>& values) {
  for (std::size_t index = 0; index < model.constraints.size(); ++index) {
    if (values[model.constraints[index].node] == 0) return index;
  }
  return std::nullopt;
}

std::string assumption_words(const Model& model, const Sources& sources, std::size_t index) {
  const dsl::Constraint& constraint = model.constraints[index];
  const std::string line = line_words(sources, constraint.place);
  if (constraint.rate) {
    const auto hand =
        std::find_if(model.signals.begin(), model.signals.end(), [&](const dsl::Signal& signal) {
          return signal.role == dsl::SignalRole::hand && signal.node == constraint.rate->hand;
        });
    return fmt::format("{} moves at most {} per tick ({})", hand->name,
                       dsl::to_text(constraint.rate->most, hand->sort), line);
  }
  if (constraint.name == "at power_up") return fmt::format("at power-up, {} ({})", constraint.doc, line);
  return constraint.doc.empty() ? fmt::format("{} ({})", constraint.name, line)
                                : fmt::format("{}, \"{}\" ({})", constraint.name, constraint.doc, line);
}

Page run_diagram(const Model& model, const Claim& claim, const solver::Trace& trace,
                 const Terminal& terminal) {
  const std::vector<std::uint32_t> names = mentioned(model, trace, claim);
  std::vector<std::uint32_t> shown;
  for (std::uint32_t index = 0; index < model.signals.size(); ++index) {
    const bool named = std::find(names.begin(), names.end(), index) != names.end();
    const bool outside = model.signals[index].role != dsl::SignalRole::element;
    const bool moves = outside && !is_power_up_choice(model, index) && changes(model, trace, index);
    if (named || moves) shown.push_back(index);
  }
  sort_for_telling(model, shown);
  return timing_diagram(
      model, trace,
      {.signals = std::move(shown), .mark = claim.possible ? "done here" : "broken here", .indent = indent},
      terminal);
}

RunJudgement judge(const Model& model, const HandRun& run, const std::vector<std::uint32_t>& claims,
                   const Terminal& terminal) {
  Chronicle chronicle(model.circuit, told_nodes(model));
  ClaimWatch watch(model, claims);
  RunJudgement judgement;
  play(model, run, [&](const std::vector<Value>& values, Value tick, Value count) {
    if (const auto constraint = unkept_in(model, values)) {
      judgement.unkept = Unkept{*constraint, tick};
      return false;
    }
    const bool whole = static_cast<Value>(chronicle.ticks()) == tick && chronicle.size() < largest_chronicle;
    if (whole) chronicle.add(values);
    for (const std::size_t index : watch.look(values, tick)) {
      ClaimOnRun& found = watch.claims()[index];
      const Claim& claim = model.claims[found.claim];
      if (!whole) {
        found.words = "The run is too long for the story behind it.";
        continue;
      }
      found.words = break_words(model, claim, chronicle.trace());
      if (!claim.possible) found.diagram = run_diagram(model, claim, chronicle.trace(), terminal);
    }
    if (whole) chronicle.add(values, count - 1);
    return true;
  });
  judgement.claims = std::move(watch.claims());
  return judgement;
}

bool any_broken(const Model& model, const std::vector<ClaimOnRun>& claims) {
  return std::any_of(claims.begin(), claims.end(), [&](const ClaimOnRun& found) {
    return found.tick && !model.claims[found.claim].possible;
  });
}

Page claims_page(const Model& model, const Sources& sources, const std::vector<ClaimOnRun>& claims,
                 const Terminal& terminal) {
  Page page;
  std::vector<std::string> whole, done, open;
  for (const ClaimOnRun& found : claims) {
    const Claim& claim = model.claims[found.claim];
    if (claim.possible) {
      found.tick ? done.push_back(fmt::format("{} at {}", claim.name, moment_words(model, *found.tick)))
                 : open.push_back(claim.name);
    } else if (found.tick) {
      add_broken(page, model, sources, found, terminal);
    } else {
      whole.push_back(claim.name);
    }
  }
  add_list(page, "Not broken: ", whole, Style::plain, terminal);
  add_list(page, "Done: ", done, Style::plain, terminal);
  add_list(page, "Not done, which is no fault of a single run: ", open, Style::plain, terminal);
  return page;
}

Json json_claims(const Model& model, const Sources& sources, const std::vector<ClaimOnRun>& claims) {
  Json all = Json::array();
  for (const ClaimOnRun& found : claims) {
    const Claim& claim = model.claims[found.claim];
    const char* outcome =
        claim.possible ? (found.tick ? "done" : "not_done") : (found.tick ? "broken" : "not_broken");
    Json json{{"claim", claim.name},
              {"doc", claim.doc},
              {"text", claim.text},
              {"place", json_place(sources, claim.place)},
              {"outcome", outcome}};
    if (found.tick) {
      json["tick"] = *found.tick;
      json["us"] = *found.tick * model.tick_us;
      json["explanation"] = found.words;
    }
    all.push_back(std::move(json));
  }
  return all;
}

Json json_unkept(const Model& model, const std::optional<Unkept>& unkept) {
  if (!unkept) return nullptr;
  const dsl::Constraint& constraint = model.constraints[unkept->constraint];
  return {{"name", constraint.name},
          {"doc", constraint.doc},
          {"tick", unkept->tick},
          {"us", unkept->tick * model.tick_us}};
}

}  // namespace detent::cli
