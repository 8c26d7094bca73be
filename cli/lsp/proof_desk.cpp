#include "cli/lsp/proof_desk.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <utility>

#include "cli/check_result.hpp"
#include "cli/json.hpp"
#include "cli/words.hpp"

namespace detent::cli::lsp {
namespace {

constexpr std::int64_t first_request = 1'000'000;  ///< of ours that make tokens, by ticket

/// The user ended it before all was decided.
bool was_stopped(const solver::Report& report) {
  return std::any_of(report.verdicts.begin(), report.verdicts.end(),
                     [](const solver::Verdict& one) { return one.limit == solver::Limit::interrupted; });
}

}  // namespace

Json check_json(const OpenDesign& one) {
  const CheckResult result{
      .file = one.document.path(), .compiled = one.design->compiled, .report = one.report};
  return Json::parse(json_text(result));
}

ProofDesk::ProofDesk(const ServerOptions& options, const ServerLines& lines, const Client& client,
                     Workspace& workspace)
    : options_(options), lines_(lines), client_(client), workspace_(workspace) {}

void ProofDesk::begin(OpenDesign& one) {
  if (one.report && was_stopped(*one.report)) forget(one);
  if (!options_.prove || one.report || one.ticket != 0) return;
  const Analysis& design = workspace_.analysed(one, client_.encoding);
  if (!design.compiled.model || workspace_.any_lost(design)) return;
  if (!prover_) prover_ = std::make_unique<Prover>(options_.limits, lines_.wake);
  one.ticket = ++last_ticket_;
  Going& going = going_[one.ticket];
  going.path = one.document.path();
  going.claims = going.questions = design.compiled.model->claims.size();
  if (client_.progress) show_progress(one.ticket, going);
  prover_->ask(one.ticket, one.design);
}

void ProofDesk::forget(OpenDesign& one) {
  one.report.reset();
  one.design.reset();
  const Ticket ticket = std::exchange(one.ticket, 0);
  const auto found = going_.find(ticket);
  if (found == going_.end()) return;
  prover_->withdraw(ticket);
  for (const Json& id : found->second.waiting) {
    lines_.send(error_response(id, ErrorCode::content_modified, "the design has changed meanwhile"));
  }
  tell_end(found->second);
  going_.erase(found);
}

void ProofDesk::answer_when_done(OpenDesign& one, const Json& id, const Json& token) {
  const bool new_one = one.ticket == 0;
  begin(one);
  const auto found = going_.find(one.ticket);
  if (found == going_.end()) {
    lines_.send(response(id, check_json(one)));
    return;
  }
  found->second.waiting.push_back(id);
  if (new_one) found->second.asked_by_request = true;
  if (token.is_null()) return;
  found->second.tokens.push_back({.name = token});
  tell_begin(found->second, found->second.tokens.back());
}

bool ProofDesk::cancel_request(const Json& id) {
  for (auto& [ticket, going] : going_) {
    if (std::erase(going.waiting, id) == 0) continue;
    lines_.send(error_response(id, ErrorCode::cancelled, "cancelled"));
    if (going.asked_by_request && going.waiting.empty()) {
      prover_->withdraw(ticket);
      if (OpenDesign* one = workspace_.find(going.path)) one->ticket = 0;
      tell_end(going);
      going_.erase(ticket);
    }
    return true;
  }
  return false;
}

void ProofDesk::cancel_progress(const Json& token) {
  for (auto& [ticket, going] : going_) {
    const bool its = std::any_of(going.tokens.begin(), going.tokens.end(),
                                 [&](const Token& one) { return one.name == token; });
    if (its) prover_->stop(ticket);
  }
}

// ---- Progress ----

void ProofDesk::show_progress(Ticket ticket, Going& going) {
  const Json token = fmt::format("detent-check-{}", ticket);
  going.tokens.push_back({.name = token, .ours = true});
  const std::int64_t id = first_request + static_cast<std::int64_t>(ticket);
  creating_[id] = ticket;
  lines_.send(request(id, "window/workDoneProgress/create", {{"token", token}}));
}

bool ProofDesk::take_response(std::int64_t id, bool failed) {
  const auto found = creating_.find(id);
  if (found == creating_.end()) return false;
  const auto going = going_.find(found->second);
  creating_.erase(found);
  if (going == going_.end()) return true;
  for (Token& token : going->second.tokens) {
    if (token.ours && !failed) tell_begin(going->second, token);
  }
  return true;
}

void ProofDesk::send_progress(const Token& token, Json value) {
  lines_.send(notification("$/progress", {{"token", token.name}, {"value", std::move(value)}}));
}

void ProofDesk::tell_begin(Going& going, Token& token) {
  token.begun = true;
  send_progress(token,
                {{"kind", "begin"},
                 {"title", "detent"},
                 {"message", fmt::format("{}: {}", std::filesystem::path(going.path).filename().string(),
                                         count_words(going.claims, "claim"))},
                 {"cancellable", true},
                 {"percentage", 0}});
}

void ProofDesk::tell_progress(Going& going, std::size_t open) {
  going.questions = std::max(going.questions, open);
  if (going.questions == 0) return;
  for (const Token& token : going.tokens) {
    if (!token.begun) continue;
    send_progress(token, {{"kind", "report"},
                          {"message", count_words(open, "question") + " left"},
                          {"percentage", 100 * (going.questions - open) / going.questions}});
  }
}

void ProofDesk::tell_end(Going& going) {
  for (const Token& token : going.tokens) {
    if (token.begun) send_progress(token, {{"kind", "end"}});
  }
}

// ---- News ----

bool ProofDesk::finish(ProofNews& news, Going& going) {
  tell_end(going);
  OpenDesign* one = workspace_.find(going.path);
  if (one == nullptr || one->ticket != news.ticket) return false;
  one->ticket = 0;
  if (!news.fault.empty()) {
    lines_.log(news.fault);
    lines_.send(notification("window/showMessage", {{"type", 1}, {"message", news.fault}}));
    for (const Json& id : going.waiting)
      lines_.send(error_response(id, ErrorCode::request_failed, news.fault));
    return false;
  }
  one->report = std::move(news.report);
  for (const Json& id : going.waiting) lines_.send(response(id, check_json(*one)));
  return true;
}

bool ProofDesk::take_news() {
  bool verdicts = false;
  if (!prover_) return false;
  for (ProofNews& news : prover_->take_news()) {
    const auto found = going_.find(news.ticket);
    if (found == going_.end()) continue;  // of a text that has changed since
    if (news.open) {
      tell_progress(found->second, *news.open);
    } else {
      verdicts = finish(news, found->second) || verdicts;
      going_.erase(found);
    }
  }
  return verdicts;
}

}  // namespace detent::cli::lsp
