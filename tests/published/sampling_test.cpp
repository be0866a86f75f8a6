// ISPM 31 (FAO, "Methodologies for sampling of consignments"): sample sizes for a confidence of 95 %, tests that miss
// nothing. mathematics.md states those of large lots. Those of finite lots are from memory of its hypergeometric table,
// and each is proved here in whole numbers: with d infected of N, n bulbs miss them all with
// prod over j < d of (N-n-j) / (N-j), which must be at most 1/20 for n and above it for n - 1.
#include "core/health/sampling.hpp"

#include <doctest/doctest.h>

#include "tests/make.hpp"

using namespace motherbulb;

namespace {

__extension__ using Wide = __int128;

bool misses_at_most_one_in_twenty(std::int64_t lot, std::int64_t infected, std::int64_t tested) {
  Wide missed = 20, all = 1;  // below 10^34 for the lots below
  for (std::int64_t j = 0; j < infected; ++j) {
    missed *= lot - tested - j;
    all *= lot - j;
  }
  return missed <= all;
}

}  // namespace

TEST_CASE("large lots: 299 bulbs for 1 %, 59 for 5 %, at 95 %") {
  for (const std::int64_t lot : {10'000'000, 100'000'000}) {
    CHECK(make::must(sample_size({lot, 0.01, 0.95, 1, 1})).tests == 299);
    CHECK(make::must(sample_size({lot, 0.05, 0.95, 1, 1})).tests == 59);
  }
}

TEST_CASE("finite lots: the sizes of the hypergeometric table, each proved in whole numbers") {
  struct Row {
    std::int64_t lot, infected;
    double share;
    std::int64_t sample;
  };
  for (const Row& row : {Row{100, 5, 0.05, 45}, Row{100, 2, 0.02, 78}, Row{100, 1, 0.01, 95}, Row{200, 10, 0.05, 51},
                         Row{200, 4, 0.02, 105}, Row{200, 2, 0.01, 155}, Row{500, 10, 0.02, 129},
                         Row{500, 5, 0.01, 225}, Row{1000, 10, 0.01, 258}}) {
    CAPTURE(row.lot);
    CAPTURE(row.infected);
    REQUIRE(misses_at_most_one_in_twenty(row.lot, row.infected, row.sample));
    REQUIRE_FALSE(misses_at_most_one_in_twenty(row.lot, row.infected, row.sample - 1));
    const Sample sample = make::must(sample_size({row.lot, row.share, 0.95, 1, 1}));
    CHECK(sample.infected == row.infected);
    CHECK(sample.tests == row.sample);
  }
}
