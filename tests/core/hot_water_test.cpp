// Expected minutes from trade-facts.md, section 4 (S43): -15 + 3.4 × circumference in cm.
#include "core/health/hot_water.hpp"

#include <doctest/doctest.h>

#include <limits>

using namespace motherbulb;

TEST_CASE("the core of a bulb of 12 cm is warm after 25.8 minutes, of 16 cm after 39.4") {
  REQUIRE(core_warm_up_minutes(12).has_value());
  CHECK(*core_warm_up_minutes(12) == doctest::Approx(25.8).epsilon(1e-12));
  REQUIRE(core_warm_up_minutes(16).has_value());
  CHECK(*core_warm_up_minutes(16) == doctest::Approx(39.4).epsilon(1e-12));
}

TEST_CASE("no time is told for sizes that nobody measured") {
  CHECK_FALSE(core_warm_up_minutes(4.9).has_value());
  CHECK_FALSE(core_warm_up_minutes(30.1).has_value());
  CHECK_FALSE(core_warm_up_minutes(-12).has_value());
  CHECK_FALSE(core_warm_up_minutes(std::numeric_limits<double>::quiet_NaN()).has_value());
  REQUIRE(core_warm_up_minutes(5).has_value());
  CHECK(*core_warm_up_minutes(5) == doctest::Approx(2.0));
  REQUIRE(core_warm_up_minutes(30).has_value());
  CHECK(*core_warm_up_minutes(30) == doctest::Approx(87.0));
}
