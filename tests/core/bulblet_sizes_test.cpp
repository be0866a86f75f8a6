// Sizes of bulblets: limits worked by hand, and counts made by the law.
#include "core/science/bulblet_sizes.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numeric>
#include <vector>

#include "tests/make.hpp"

using namespace motherbulb;

namespace {

const std::vector<Grade> grades = {make::grade("-2"),  make::grade("2-4"),  make::grade("4-6"),
                                   make::grade("6-8"), make::grade("8-10"), make::grade("10+")};

double below(double x) {
  return 0.5 * std::erfc(-x / std::sqrt(2.0));
}

// So many bulblets by the law of girths: median, spread, as they fall into the grades.
std::vector<SizedBulblets> counted(double log_ratio, double median_cm, double spread, double count) {
  std::vector<SizedBulblets> all;
  double before = 0;
  for (std::size_t i = 0; i < grades.size(); ++i) {
    const double until = i + 1 == grades.size() ? 1 : below(std::log(grades[i].high_mm / 10.0 / median_cm) / spread);
    all.push_back({log_ratio, grades[i], std::llround(count * (until - before))});
    before = until;
  }
  return all;
}

}  // namespace

TEST_CASE("nothing counted gives the published bulblet, smaller by the cube root of the count") {
  const BulbletSizes sizes = bulblet_sizes(6.5, {});
  CHECK(sizes.girth_cm(0) == doctest::Approx(6.5).epsilon(0.001));
  // Twice as many: 2^(-1/3) of the girth.
  CHECK(sizes.girth_cm(std::log(2.0)) == doctest::Approx(6.5 * 0.793701).epsilon(0.001));
  CHECK(sizes.share_from(0, 6.5) == doctest::Approx(0.5).epsilon(0.001));
  CHECK(sizes.bulblets == 0);
  const std::vector<double> shares = sizes.shares(0, grades);
  CHECK(shares.size() == grades.size());
  CHECK(std::accumulate(shares.begin(), shares.end(), 0.0) == doctest::Approx(1));
  for (const double share : shares) CHECK(share >= 0);
}

TEST_CASE("many counted give the shares that were counted") {
  const auto told = counted(0, 4.2, 0.3, 20'000);
  const BulbletSizes sizes = bulblet_sizes(6.5, told);
  CHECK(sizes.girth_cm(0) == doctest::Approx(4.2).epsilon(0.005));
  const std::vector<double> shares = sizes.shares(0, grades);
  for (std::size_t i = 0; i < grades.size(); ++i) {
    CHECK(std::fabs(shares[i] - static_cast<double>(told[i].count) / 20'000) < 0.004);
  }
}

TEST_CASE("how much smaller more bulblets are is learnt from cuts of two kinds, against the law's own direction too") {
  // S04 and S05 differ in sign. r of -1: with twice the count the median grows to 4 * 2^(1/3).
  auto told = counted(0, 4, 0.35, 20'000);
  for (const SizedBulblets& one : counted(std::log(2.0), 4 * std::cbrt(2.0), 0.35, 20'000)) told.push_back(one);
  const BulbletSizes sizes = bulblet_sizes(4, told);
  CHECK(sizes.girth_cm(std::log(2.0)) / sizes.girth_cm(0) == doctest::Approx(std::cbrt(2.0)).epsilon(0.02));
}

TEST_CASE("bulblets without a size tell nothing, and odd counts give numbers") {
  CHECK(bulblet_sizes(6.5, {{0, Grade{}, 500}}).girth_cm(0) == doctest::Approx(6.5).epsilon(0.001));
  const BulbletSizes far = bulblet_sizes(1, {{0, make::grade("150+"), 1'000'000}, {5, make::grade("-0.1"), 1'000'000}});
  double all = 0;
  for (const double share : far.shares(1, grades)) {
    CHECK(std::isfinite(share));
    all += share;
  }
  CHECK(all == doctest::Approx(1));
}
