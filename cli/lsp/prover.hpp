// Proofs in a thread of their own, one design after the other, so that the editor is answered meanwhile.
#pragma once

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "cli/lsp/analysis.hpp"
#include "solver/verdict.hpp"

namespace detent::cli::lsp {

using Ticket = std::uint64_t;

struct ProofLimits {
  std::chrono::milliseconds timeout{};  ///< for each claim
  std::optional<std::size_t> memory_mib = {};
  unsigned jobs = 1;
};

/// What became of a question, or how far it is.
struct ProofNews {
  Ticket ticket = 0;
  std::optional<std::size_t> open = {};       ///< so many claims are left, and it goes on
  std::optional<solver::Report> report = {};  ///< it is done
  std::string fault = {};                     ///< it is done, and nothing can be said: why
};

class Prover {
 public:
  /// `wake` is called from the prover's thread when there is news.
  Prover(const ProofLimits& limits, std::function<void()> wake);
  /// Stops what goes on; takes as long as the solver takes to hear of it.
  ~Prover();
  Prover(const Prover&) = delete;
  Prover& operator=(const Prover&) = delete;

  /// All claims of a design that has a model. Comes after what was asked before.
  void ask(Ticket ticket, std::shared_ptr<const Analysis> design);
  /// Ends it soon, with news: a report of what is known by then.
  void stop(Ticket ticket);
  /// Nobody waits for it any more: it ends soon, and need not begin.
  void withdraw(Ticket ticket);
  [[nodiscard]] std::vector<ProofNews> take_news();

 private:
  struct Question {
    Ticket ticket = 0;
    std::shared_ptr<const Analysis> design;
    bool stopped = false;  ///< before it was begun
  };
  void work(const std::stop_token& done);
  ProofNews decide(const Question& question);
  void tell(ProofNews news);

  ProofLimits limits_;
  std::function<void()> wake_;
  std::mutex mutex_;
  std::condition_variable_any changed_;
  std::deque<Question> waiting_;
  Ticket going_on_ = 0;  ///< 0: none
  std::atomic<bool> stop_{false};
  std::vector<ProofNews> news_;
  std::jthread thread_;  // last: it uses all of the others
};

}  // namespace detent::cli::lsp
