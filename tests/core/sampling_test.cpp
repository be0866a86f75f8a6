// How many to test: against every placement of the infected bulbs counted one by one, and by hand.
#include "core/health/sampling.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <ctime>
#include <limits>

#include "tests/make.hpp"

using namespace motherbulb;

namespace {

SampleWish wish(std::int64_t lot, double share, double confidence = 0.95, double sensitivity = 1,
                std::int64_t pool = 1) {
  return {lot, share, confidence, sensitivity, pool};
}

// Lays the infected bulbs in every way into the lot, takes the first `tests` pools, and asks of each pool that holds
// one whether its test misses it.
double miss_by_counting(int lot, int infected, double sensitivity, int pool, int tests) {
  double missed = 0;
  int ways = 0;
  for (unsigned placed = 0; placed < (1U << lot); ++placed) {
    int bulbs = 0;
    for (int i = 0; i < lot; ++i) bulbs += static_cast<int>(placed >> i & 1U);
    if (bulbs != infected) continue;
    ++ways;
    double all_miss = 1;
    for (int test = 0; test < tests; ++test) {
      bool holds_one = false;
      for (int i = test * pool; i < (test + 1) * pool && i < lot; ++i) holds_one = holds_one || (placed >> i & 1U) != 0;
      if (holds_one) all_miss *= 1 - sensitivity;
    }
    missed += all_miss;
  }
  return missed / ways;
}

}  // namespace

TEST_CASE("the chance to find is that of counting every placement in lots up to eleven bulbs") {
  for (const double sensitivity : {1.0, 0.9, 0.35}) {
    for (int lot = 1; lot <= 11; ++lot) {
      for (int infected = 1; infected <= lot; ++infected) {
        for (int pool = 1; pool <= lot; ++pool) {
          const SampleWish asked = wish(lot, static_cast<double>(infected) / lot, 0.95, sensitivity, pool);
          const int most = (lot + pool - 1) / pool;  // the last pool may be smaller
          for (int tests = 0; tests <= most; ++tests) {
            const double counted = 1 - miss_by_counting(lot, infected, sensitivity, pool, tests);
            CAPTURE(lot);
            CAPTURE(infected);
            CAPTURE(pool);
            CAPTURE(tests);
            CAPTURE(sensitivity);
            REQUIRE(std::abs(chance_to_find(asked, tests) - counted) < 1e-12);
          }
        }
      }
    }
  }
}

TEST_CASE("the sample is the smallest that reaches the confidence, by counting") {
  for (const double sensitivity : {1.0, 0.8}) {
    for (const double confidence : {0.5, 0.82, 0.951}) {
      for (int lot = 2; lot <= 9; ++lot) {
        for (int infected = 1; infected <= 3 && infected <= lot; ++infected) {
          for (int pool = 1; pool <= 3 && pool <= lot; ++pool) {
            const int most = (lot + pool - 1) / pool;
            std::optional<std::int64_t> fewest;
            for (int tests = most; tests >= 1; --tests) {
              if (1 - miss_by_counting(lot, infected, sensitivity, pool, tests) >= confidence) fewest = tests;
            }
            CAPTURE(lot);
            CAPTURE(infected);
            CAPTURE(pool);
            const Sample sample =
                make::must(sample_size(wish(lot, static_cast<double>(infected) / lot, confidence, sensitivity, pool)));
            CHECK(sample.infected == infected);
            CHECK(sample.tests == fewest);
            if (fewest) {
              CHECK(sample.bulbs == std::min<std::int64_t>(*fewest * pool, lot));
              CHECK(sample.reached >= confidence - 1e-9);
            } else {
              CHECK(sample.bulbs == lot);
              CHECK(sample.reached < confidence);
            }
          }
        }
      }
    }
  }
}

TEST_CASE("90 of 100 bulbs find a single infected one with 90 %, and 95 with 95 %, not one more") {
  CHECK(make::must(sample_size(wish(100, 0.01, 0.9))).tests == 90);
  CHECK(make::must(sample_size(wish(100, 0.01, 0.95))).tests == 95);
  CHECK(make::must(sample_size(wish(1000, 0.001, 0.9))).tests == 900);
}

TEST_CASE("a share means the next whole bulb, whatever the last digit of its double is") {
  CHECK(make::must(sample_size(wish(20, 0.05))).infected == 1);
  CHECK(make::must(sample_size(wish(100, 0.07))).infected == 7);  // 0.07 · 100 is 7.000000000000001
  CHECK(make::must(sample_size(wish(100, 0.29))).infected == 29);
  CHECK(make::must(sample_size(wish(100, 0.0701))).infected == 8);
  CHECK(make::must(sample_size(wish(10, 0.001))).infected == 1);
  CHECK(make::must(sample_size(wish(10, 1))).infected == 10);
  CHECK(make::must(sample_size(wish(100'000'000, 0.003))).infected == 300'000);
}

TEST_CASE("where even all tests miss too often, none is named and what all reach is told") {
  // One infected bulb, and a test that finds it with 80 %: with all tested the chance is 80 %.
  const Sample sample = make::must(sample_size(wish(50, 0.02, 0.95, 0.8)));
  CHECK_FALSE(sample.tests.has_value());
  CHECK(sample.bulbs == 50);
  CHECK(sample.reached == doctest::Approx(0.8).epsilon(1e-12));
}

TEST_CASE("a sensitive test of single bulbs behaves in a large lot like drawing with replacement") {
  // Each test is positive with share · sensitivity, so m tests all miss with (1 - 0.01 · 0.9)^m; 332 is the first m at
  // which that is below 5 % (log 0.05 / log 0.991 = 331.35). In a lot of 10^8 the difference is far below one test.
  CHECK(make::must(sample_size(wish(100'000'000, 0.01, 0.95, 0.9))).tests == 332);
  // Pools of 5: a pool holds none with 0.99^5 = 0.95099, so a test misses with 1 - 0.9 · 0.04901 = 0.955891;
  // log 0.05 / log 0.955891 = 66.41.
  const Sample pooled = make::must(sample_size(wish(100'000'000, 0.01, 0.95, 0.9, 5)));
  CHECK(pooled.tests == 67);
  CHECK(pooled.bulbs == 335);
}

TEST_CASE("one infected bulb in the largest lot is found by testing that part of it, exactly") {
  // With one infected bulb, m of N tests find it with m/N · s.
  const Sample sample = make::must(sample_size(wish(100'000'000, 1e-8, 0.95)));
  CHECK(sample.infected == 1);
  CHECK(sample.tests == 95'000'000);
  const SampleWish less = wish(100'000'000, 1e-8, 0.5, 0.8);
  CHECK(make::must(sample_size(less)).tests == 62'500'000);
  CHECK(chance_to_find(less, 10'000'000) == doctest::Approx(0.08).epsilon(1e-9));
}

TEST_CASE("the chance to find grows with every test and with the sensitivity") {
  for (const std::int64_t pool : {1, 7, 60}) {
    double before = -1;
    for (std::int64_t tests = 0; tests * pool <= 3'000; tests += 5) {  // beyond, all are 1 to the last digit
      const double found = chance_to_find(wish(20'000, 0.004, 0.95, 0.7, pool), tests);
      const double surer = chance_to_find(wish(20'000, 0.004, 0.95, 0.9, pool), tests);
      CHECK(found > before);
      if (tests > 0) CHECK(surer > found);
      before = found;
    }
  }
}

TEST_CASE("what is out of range is refused by name") {
  const auto refused = [](const SampleWish& asked, const char* name) {
    const Result<Sample> answer = sample_size(asked);
    REQUIRE_FALSE(answer.ok());
    CHECK(answer.error().what.rfind(name, 0) == 0);
    CHECK(chance_to_find(asked, 5) == 0);
  };
  const double no_number = std::numeric_limits<double>::quiet_NaN();
  refused(wish(0, 0.1), "lot");
  refused(wish(100'000'001, 0.1), "lot");
  refused(wish(10, 0), "share");
  refused(wish(10, 1.01), "share");
  refused(wish(10, no_number), "share");
  refused(wish(10, 0.1, 0), "confidence");
  refused(wish(10, 0.1, 1), "confidence");
  refused(wish(10, 0.1, no_number), "confidence");
  refused(wish(10, 0.1, 0.95, 0), "sensitivity");
  refused(wish(10, 0.1, 0.95, 1.5), "sensitivity");
  refused(wish(10, 0.1, 0.95, 1, 0), "pool");
  refused(wish(10, 0.1, 0.95, 1, 11), "pool");
}

TEST_CASE("the largest lots are answered while a person waits, whatever is asked") {
  for (const SampleWish& asked : {wish(100'000'000, 1e-8, 0.9, 0.95), wish(100'000'000, 0.5, 0.999, 0.5, 1000),
                                  wish(100'000'000, 1e-5, 0.99, 0.6, 30), wish(100'000'000, 2e-8, 0.95, 0.8, 3)}) {
    const std::clock_t from = std::clock();
    make::must(sample_size(asked));
    const double took = static_cast<double>(std::clock() - from) / CLOCKS_PER_SEC;
    MESSAGE("took " << took * 1000 << " ms");
    CHECK(took < 2);  // of the processor's time; measured below 0.05
  }
}
