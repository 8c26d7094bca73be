#include "cli/lsp/prover.hpp"

#include <algorithm>
#include <exception>
#include <new>
#include <utility>

#include "solver/forever.hpp"

namespace detent::cli::lsp {

Prover::Prover(const ProofLimits& limits, std::function<void()> wake)
    : limits_(limits), wake_(std::move(wake)), thread_([this](const std::stop_token& done) { work(done); }) {}

Prover::~Prover() {
  thread_.request_stop();
  stop_ = true;
  changed_.notify_all();
}

void Prover::ask(Ticket ticket, std::shared_ptr<const Analysis> design) {
  {
    const std::lock_guard lock(mutex_);
    waiting_.push_back({.ticket = ticket, .design = std::move(design)});
  }
  changed_.notify_all();
}

void Prover::withdraw(Ticket ticket) {
  const std::lock_guard lock(mutex_);
  std::erase_if(waiting_, [ticket](const Question& question) { return question.ticket == ticket; });
  if (going_on_ == ticket) stop_ = true;
}

void Prover::stop(Ticket ticket) {
  const std::lock_guard lock(mutex_);
  for (Question& question : waiting_) question.stopped = question.stopped || question.ticket == ticket;
  if (going_on_ == ticket) stop_ = true;
}

std::vector<ProofNews> Prover::take_news() {
  const std::lock_guard lock(mutex_);
  return std::exchange(news_, {});
}

void Prover::tell(ProofNews news) {
  {
    const std::lock_guard lock(mutex_);
    news_.push_back(std::move(news));
  }
  wake_();
}

/// Nothing that goes wrong here ends the program: the editor's user would lose the other designs' answers.
ProofNews Prover::decide(const Question& question) {
  ProofNews news{.ticket = question.ticket};
  try {
    news.report = solver::check_forever(
        *question.design->compiled.model,
        {.timeout = limits_.timeout,
         .memory_mib = limits_.memory_mib,
         .cancel = &stop_,
         .progress = [&](std::size_t open) { tell({.ticket = question.ticket, .open = open}); },
         .jobs = limits_.jobs});
  } catch (const solver::InternalDisagreement& disagreement) {
    news.fault = "detent has found a fault in itself, and no verdict of this design can be trusted: " +
                 std::string(disagreement.what());
  } catch (const std::bad_alloc&) {
    news.fault = "there is not enough memory, and nothing was decided";
  } catch (const std::exception& error) {
    news.fault = std::string("detent has found a fault in itself, and nothing was decided: ") + error.what();
  }
  return news;
}

void Prover::work(const std::stop_token& done) {
  while (true) {
    Question question;
    {
      std::unique_lock lock(mutex_);
      going_on_ = 0;
      if (!changed_.wait(lock, done, [this] { return !waiting_.empty(); })) return;
      if (done.stop_requested()) return;
      question = std::move(waiting_.front());
      waiting_.pop_front();
      going_on_ = question.ticket;
      stop_ = question.stopped;
      if (done.stop_requested()) stop_ = true;  // asked for between the two lines above
    }
    tell(decide(question));
  }
}

}  // namespace detent::cli::lsp
