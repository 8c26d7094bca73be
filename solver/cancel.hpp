// How whoever asked says stop: by a flag, or by a function that is asked.
#pragma once

#include <atomic>
#include <concepts>
#include <functional>
#include <memory>
#include <utility>

namespace detent::solver {

/// Whether somebody wants a check to stop. It is asked every few milliseconds, from several threads at once,
/// for as long as the check takes, and never afterwards. What is undecided by then is reported so
/// (Limit::interrupted), never as proved; what was decided stays.
class Cancel {
 public:
  /// Nobody does.
  Cancel() = default;
  /// A flag that any thread may set; it must outlive the check. Null: nobody does.
  Cancel(const std::atomic<bool>* flag) : flag_(flag) {}  // NOLINT(google-explicit-constructor): an option
  /// A function that says so, quickly, from any thread. Once it has said yes it is taken at its word and not
  /// asked again; copies of this object hear of it, too. If it throws, that is a yes.
  template <std::predicate<> Asked>
  Cancel(Asked asked)
      : call_(std::make_shared<Call>(std::move(asked))) {}  // NOLINT(google-explicit-constructor)

  /// From any thread.
  [[nodiscard]] bool requested() const noexcept {
    return (flag_ != nullptr && flag_->load()) || (call_ && call_->says_yes());
  }

 private:
  class Call {
   public:
    explicit Call(std::function<bool()> asked) : asked_(std::move(asked)) {}
    bool says_yes() noexcept {
      if (said_) return true;
      bool yes = true;
      try {
        yes = asked_();
      } catch (...) {  // a thread that waits for an answer must not end the program
      }
      if (yes) said_ = true;
      return yes;
    }

   private:
    std::function<bool()> asked_;
    std::atomic<bool> said_{false};
  };

  const std::atomic<bool>* flag_ = nullptr;
  std::shared_ptr<Call> call_;
};

}  // namespace detent::solver
