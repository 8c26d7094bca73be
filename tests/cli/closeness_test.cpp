// The tolerance in time and level against its definition, asked at every moment.
#include "cli/closeness.hpp"

#include <algorithm>
#include <vector>

#include "tests/support/catch.hpp"
#include "tests/support/chance.hpp"

namespace detent::test {
namespace {

using Picture = std::vector<int>;

bool shown_near(const Picture& picture, int value, int moment, int tau, int epsilon) {
  // Moments are unit stretches [t, t + 1): a piece may be moved by any time up to tau, so that a stretch is
  // covered by matching ones at most tau away.
  for (int t = std::max(0, moment - tau); t <= std::min(static_cast<int>(picture.size()) - 1, moment + tau);
       ++t) {
    if (std::abs(picture[static_cast<std::size_t>(t)] - value) <= epsilon) return true;
  }
  return false;
}

/// The first moment, before `end`, at which one shows what the other does not show within the tolerance; -1
/// for none.
int first_parting(const Picture& log, const Picture& model, int end, int tau, int epsilon) {
  for (int t = 0; t < end; ++t) {
    const auto at = static_cast<std::size_t>(t);
    if (!shown_near(model, log[at], t, tau, epsilon) || !shown_near(log, model[at], t, tau, epsilon))
      return t;
  }
  return -1;
}

Picture any_picture(Chance& chance, std::size_t length, std::size_t values) {
  Picture picture;
  while (picture.size() < length) {
    const int value = static_cast<int>(chance.below(values));
    for (std::size_t i = 1 + chance.below(5); i > 0 && picture.size() < length; --i) picture.push_back(value);
  }
  return picture;
}

/// The same with edges moved a little.
Picture shaken(Chance& chance, const Picture& picture, int most) {
  Picture result;
  for (int t = 0; t < static_cast<int>(picture.size()); ++t) {
    const int other = std::clamp(t + static_cast<int>(chance.between(-most, most)), 0,
                                 static_cast<int>(picture.size()) - 1);
    result.push_back(picture[static_cast<std::size_t>(other)]);
  }
  return result;
}

/// Pieces of any length in which neither changes, as the replay hands them over.
cli::Closeness fed(const Picture& log, const Picture& model, int end, int tau, int epsilon, Chance& chance) {
  cli::Closeness closeness(tau, epsilon);
  const int length = static_cast<int>(log.size());
  for (int from = 0; from < length;) {
    const auto at = static_cast<std::size_t>(from);
    int to = from + 1;
    const int stop = from < end ? end : length;
    while (to < stop && log[static_cast<std::size_t>(to)] == log[at] &&
           model[static_cast<std::size_t>(to)] == model[at] && !chance.one_in(4)) {
      ++to;
    }
    if (from < end) {
      closeness.add(from, to, log[at], model[at], at);
    } else {
      closeness.add_beyond(from, to, log[at], model[at]);
    }
    from = to;
  }
  closeness.finish();
  return closeness;
}

}  // namespace

TEST_CASE("log and model part exactly where the definition says") {
  Chance chance(11);
  int partings = 0;
  int agreements = 0;
  for (int round = 0; round < 20'000; ++round) {
    const int tau = static_cast<int>(chance.below(5));
    const int epsilon = static_cast<int>(chance.below(2));
    const Picture model = any_picture(chance, 5 + chance.below(30), 2 + chance.below(4));
    const Picture log = chance.one_in(3) ? any_picture(chance, model.size(), 3) : shaken(chance, model, tau);
    const int end = static_cast<int>(model.size()) - tau;
    if (end <= 0) continue;
    const int expected = first_parting(log, model, end, tau, epsilon);
    const cli::Closeness closeness = fed(log, model, end, tau, epsilon, chance);
    INFO("tau " << tau << ", epsilon " << epsilon << ", round " << round);
    REQUIRE(closeness.parting().has_value() == (expected >= 0));
    if (expected < 0) {
      ++agreements;
      continue;
    }
    ++partings;
    CHECK(closeness.parting()->time == expected);
    CHECK(closeness.parting()->row <= static_cast<std::size_t>(expected));
    CHECK(closeness.parting()->log == log[static_cast<std::size_t>(expected)]);
    CHECK(closeness.parting()->model == model[static_cast<std::size_t>(expected)]);
  }
  CHECK(partings > 3'000);
  CHECK(agreements > 3'000);
}

TEST_CASE("edges may move by the tolerance, and pulses may not vanish") {
  const auto parting = [](cli::Nanoseconds edge_log, cli::Nanoseconds edge_model, cli::Nanoseconds tau) {
    cli::Closeness closeness(tau, 0);
    const auto first = std::min(edge_log, edge_model);
    const auto second = std::max(edge_log, edge_model);
    closeness.add(0, first, 0, 0, 2);
    if (first != second) closeness.add(first, second, edge_log < edge_model, edge_model < edge_log, 3);
    closeness.add(second, 1'000, 1, 1, 4);
    closeness.finish();
    return closeness.parting();
  };
  CHECK_FALSE(parting(100, 140, 40));
  CHECK_FALSE(parting(140, 100, 40));
  CHECK(parting(100, 141, 40)->time == 100);
  CHECK(parting(141, 100, 40)->time == 100);
  // A pulse of the model, 1 ns long, that the log does not have, with a tolerance of 40 ns.
  cli::Closeness missing(40, 0);
  missing.add(0, 500, 0, 0, 2);
  missing.add(500, 501, 0, 1, 2);
  missing.add(501, 1'000, 0, 0, 2);
  missing.finish();
  REQUIRE(missing.parting());
  CHECK(missing.parting()->time == 500);
}

}  // namespace detent::test
