// One thread waits for bytes, for the prover's word and for the clock, all at once.
#include "cli/lsp/stdio_loop.hpp"

#include <fmt/format.h>
#include <poll.h>
#include <sys/eventfd.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <csignal>
#include <cstdint>
#include <utility>

#include "cli/lsp/server.hpp"
#include "cli/output.hpp"
#include "cli/page.hpp"

namespace detent::cli::lsp {
namespace {

/// So much is read at once, so that what is cancelled a little later is seen in time.
constexpr std::size_t most_at_once = std::size_t{16} * 1024 * 1024;

/// Wakes the thread that waits; any thread may ring.
class Bell {
 public:
  Bell() : number_(eventfd(0, EFD_CLOEXEC | EFD_NONBLOCK)) {}
  Bell(const Bell&) = delete;
  Bell& operator=(const Bell&) = delete;
  ~Bell() { close(number_); }

  void ring() const {
    const std::uint64_t one = 1;
    static_cast<void>(!write(number_, &one, sizeof one));
  }
  void hush() const {
    std::uint64_t count = 0;
    static_cast<void>(!read(number_, &count, sizeof count));
  }
  [[nodiscard]] int number() const { return number_; }

 private:
  int number_;
};

bool can_read() {
  pollfd input{.fd = STDIN_FILENO, .events = POLLIN, .revents = 0};
  return poll(&input, 1, 0) > 0;
}

/// All bytes that are there; false at their end.
bool read_all(std::string& bytes) {
  std::array<char, 65536> block{};
  do {
    const ssize_t count = read(STDIN_FILENO, block.data(), block.size());
    if (count < 0 && errno == EINTR) continue;
    if (count <= 0) return false;
    bytes.append(block.data(), static_cast<std::size_t>(count));
  } while (bytes.size() < most_at_once && can_read());
  return true;
}

int milliseconds_until(std::optional<Clock::time_point> due) {
  if (!due) return -1;
  const auto left = std::chrono::ceil<std::chrono::milliseconds>(*due - Clock::now()).count();
  return static_cast<int>(std::clamp<std::int64_t>(left, 0, 60'000));
}

}  // namespace

int serve(ServerOptions options) {
  const Bell bell;
  bool reader_gone = false;
  Server server(
      std::move(options),
      {.send = [&](const Json& message) { reader_gone = reader_gone || !print(framed(text_of(message))); },
       .wake = [&] { bell.ring(); },
       .log =
           [](const std::string& what) {
             static_cast<void>(write_all(STDERR_FILENO, "detent lsp: " + printable(what, true) + "\n"));
           }});
  while (!server.exit_status() && !reader_gone) {
    std::array<pollfd, 2> wait{pollfd{.fd = STDIN_FILENO, .events = POLLIN, .revents = 0},
                               pollfd{.fd = bell.number(), .events = POLLIN, .revents = 0}};
    const int count = poll(wait.data(), wait.size(), milliseconds_until(server.due()));
    if (count < 0 && errno != EINTR) break;
    if (count > 0 && wait[1].revents != 0) bell.hush();
    std::string bytes;
    const bool goes_on = count <= 0 || wait[0].revents == 0 || read_all(bytes);
    server.feed(bytes, Clock::now());
    server.attend(Clock::now());
    if (!goes_on) break;
  }
  return server.status_at_end();
}

}  // namespace detent::cli::lsp
